"""A process that has everything imported and forks a service on each `start`: python starter.py.

Lines in: `start`. Lines out: the id of the service's process, which leads a group of its own.
Where the line in ends, the last service is killed, so that nothing outlives the tests.
"""

from __future__ import annotations

import os
import signal
import sys
from contextlib import suppress

from baylore_service import cli
from baylore_service.desk.house import shipped_spotter


def fork_service() -> int:
    """A service with the settings of the environment, in a process group of its own."""
    pid = os.fork()
    if pid:
        return pid
    os.setsid()
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())
    sys.stdin.close()
    os._exit(cli.main(["serve"]))


def end(pid: int) -> None:
    """Kill a service and all its processes, where any is left."""
    with suppress(ProcessLookupError):
        os.killpg(pid, signal.SIGKILL)
    os.waitpid(pid, 0)


def main() -> None:
    """Fork a service for each line; the lists are read once for all of them."""
    shipped_spotter()
    pid = 0
    for _ in sys.stdin:
        if pid:
            end(pid)
        pid = fork_service()
        sys.stdout.write(f"{pid}\n")
        sys.stdout.flush()
    if pid:
        end(pid)


if __name__ == "__main__":
    main()
