"""A process that has everything imported and forks a service for each line: python starter.py.

A line in is JSON: the service's environment, and the file its words go to. A line out is the id of the
service's process, which leads a group of its own. At the end of the lines every service is killed, so that
nothing outlives the tests.
"""

from __future__ import annotations

import json
import os
import signal
import sys
from contextlib import suppress

from baylore_service import cli
from baylore_service.desk.house import shipped_spotter


def fork_service(environment: dict[str, str], log: str) -> int:
    """A service with these settings, in a process group of its own."""
    pid = os.fork()
    if pid:
        return pid
    os.setsid()
    words = os.open(log, os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o644)
    for stream in (sys.stdout, sys.stderr):
        os.dup2(words, stream.fileno())
    sys.stdin.close()
    os.environ.update(environment)
    os._exit(cli.main(["serve"]))


def end(pid: int) -> None:
    """Kill a service and all its processes, where any is left."""
    with suppress(ProcessLookupError):
        os.killpg(pid, signal.SIGKILL)
    with suppress(ChildProcessError):
        os.waitpid(pid, 0)


def main() -> None:
    """Fork a service for each line; the lists are read once for all of them."""
    shipped_spotter()
    running: list[int] = []
    for line in sys.stdin:
        running.append(fork_service(**json.loads(line)))
        sys.stdout.write(f"{running[-1]}\n")
        sys.stdout.flush()
    for pid in running:
        end(pid)


if __name__ == "__main__":
    main()
