"""Builds the container file with an engine and runs what came out: `python -m tests.engine`, as root.

Needs buildah. Where its registry cannot be reached, `--stand-ins` makes the images it begins with out of the
system's own packages (mmdebstrap) and this machine's node. Says plainly what is missing, and ends with 3.
"""

from __future__ import annotations

import argparse
import json
import os
import shlex
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.image import FILE, TOP, health_check, stages
from tests.postgres import free_port

HEALTHY_WITHIN_S, ENDED_WITHIN_S = 120.0, 45.0
ENDED = "ended with "
NAME = "localhost/baylore"
MISSING = 3
BARRED, OWN = ("/opt/baylore/x", "/etc/x", "/root/x"), ("/data/x", "/tmp/x")
PACKAGES = "ca-certificates,python3.11,python3.11-venv,python3-pip"
TRUSTED = Path("/etc/ssl/certs/ca-certificates.crt")
# The stand-ins trust whom this machine trusts, as a build behind a proxy must.
TRUST = {
    "etc/pip.conf": f"[global]\ncert = {TRUSTED}\n",
    "usr/etc/npmrc": f"cafile={TRUSTED}\n",
}
LINKS = {
    "usr/local/bin/python": "/usr/bin/python3.11",
    "usr/bin/npm": "../lib/node_modules/npm/bin/npm-cli.js",
}


@dataclass(frozen=True)
class Engine:
    """buildah with a store of its own in a folder; nothing of it stays."""

    folder: Path

    def run(self, *what: str, **how: Any) -> str:
        """What a command says; what goes wrong is raised with what it said last."""
        done = subprocess.run(
            [*self.command, *what], capture_output=True, text=True, check=False, env=self.env, **how
        )
        if done.returncode:
            raise SystemExit(f"buildah {what[0]}: {(done.stdout + done.stderr)[-3000:]}")
        return done.stdout.strip()

    @property
    def command(self) -> list[str]:
        """The command with its places."""
        places = ("--root", f"{self.folder}/store", "--runroot", f"{self.folder}/run")
        return ["buildah", *places, "--storage-driver", "vfs"]

    @property
    def env(self) -> dict[str, str]:
        """The environment of the engine: what it makes for a while is in the folder too."""
        return os.environ | {"TMPDIR": str(self.folder)}

    def begun(self, image: str) -> str:
        """A container of an image that is here."""
        return self.run("from", "--pull-never", image)


def stand_ins(engine: Engine) -> None:
    """Images under the names that the container file begins with, made of what this machine has."""
    tree = engine.folder / "tree"
    subprocess.run(
        ["mmdebstrap", "--quiet", "--variant=minbase", f"--include={PACKAGES}", "bookworm", str(tree)],
        check=True,
    )
    shutil.copy(TRUSTED, tree / TRUSTED.relative_to("/"))
    for place, text in TRUST.items():
        (tree / place).parent.mkdir(parents=True, exist_ok=True)
        (tree / place).write_text(text)
    shutil.copy(str(shutil.which("node")), tree / "usr/bin/node")
    npm = Path(str(shutil.which("npm"))).resolve().parents[1]
    shutil.copytree(npm, tree / "usr/lib/node_modules/npm", symlinks=True)
    for link, to in LINKS.items():
        (tree / link).symlink_to(to)
    container = engine.run("from", "scratch")
    engine.run("add", container, str(tree), "/")
    names = {stage.begins_with for stage in stages(FILE.read_text())}
    engine.run("commit", "--rm", container, f"{NAME}-base")
    for name in names:
        engine.run("tag", f"{NAME}-base", f"docker.io/library/{name}")
    shutil.rmtree(tree)


@contextmanager
def serving(engine: Engine, container: str, port: int) -> Iterator[Path]:
    """What the image is for, by its own command as its own user; its words and its end go to a file."""
    command = config(engine)["Cmd"]
    run = ("run", "--isolation", "chroot", "--env", f"BAYLORE_PORT={port}", container, "--")
    engine.run(*run, command[0], "migrate")
    # The engine does not always tell how a command ended: the shell does.
    telling = ["sh", "-c", f"{shlex.join(command)}; echo {ENDED}$?"]
    said = engine.folder / "said"
    with said.open("wb") as words:
        process = subprocess.Popen(
            [*engine.command, *run, *telling], stdout=words, stderr=words, env=engine.env
        )
    try:
        yield said
    finally:
        for pid in processes(engine):
            os.kill(pid, signal.SIGKILL)
        process.kill()
        process.wait()


def config(engine: Engine) -> dict[str, Any]:
    """What the image says of itself."""
    return dict(json.loads(engine.run("inspect", "--type", "image", NAME))["OCIv1"]["config"])


def lived(engine: Engine) -> list[str]:
    """What was wrong with its life: its health by its own check, its user, what it can write, its end."""
    container, port = engine.begun(NAME), free_port()
    check = health_check(stages(FILE.read_text())[-1], port)
    inside = ["run", "--isolation", "chroot", container, "--"]
    with serving(engine, container, port) as said:
        if not within(HEALTHY_WITHIN_S, lambda: done(engine, [*inside, *check])):
            return ["it did not get healthy", said.read_text()[-3000:]]
        wrong = [f"{place} can be written" for place in BARRED if done(engine, [*inside, "touch", place])]
        wrong += [f"{place} cannot" for place in OWN if not done(engine, [*inside, "touch", place])]
        image, running = config(engine), processes(engine)
        wrong += [f"process {pid} of user {owner(pid)}" for pid in running if owner(pid) not in image["User"]]
        os.kill(running[0], getattr(signal, image["StopSignal"]))
        within(ENDED_WITHIN_S, lambda: ENDED in said.read_text())
        wrong += [] if f"{ENDED}0\n" in said.read_text() else ["it did not end well when told"]
    return wrong


def within(seconds: float, happens: Callable[[], bool]) -> bool:
    """Whether it happens in so many seconds."""
    until = time.monotonic() + seconds
    while not (so := happens()) and time.monotonic() < until:
        time.sleep(1)
    return so


def done(engine: Engine, command: list[str]) -> bool:
    """Whether a command in the container succeeds."""
    return (
        subprocess.run(
            [*engine.command, *command], capture_output=True, check=False, env=engine.env
        ).returncode
        == 0
    )


def processes(engine: Engine) -> list[int]:
    """The processes of the command that was run, the first of them first; the engine's own are left out."""
    found = []
    for entry in Path("/proc").iterdir():
        with suppress(OSError):
            inside = os.readlink(entry / "root").startswith(str(engine.folder))
            if inside and b"python" in (entry / "cmdline").read_bytes().split(b"\0")[0]:
                found.append(int(entry.name))
    return sorted(found)


def owner(pid: int) -> str:
    """The number of the user a process runs as, as the kernel has it."""
    return str(Path(f"/proc/{pid}").stat().st_uid)


def missing(asked: argparse.Namespace) -> list[str]:
    """What this machine lacks for it."""
    tools = ["buildah", *(["mmdebstrap", "node", "npm"] if asked.stand_ins else [])]
    lacks = [tool for tool in tools if shutil.which(tool) is None]
    return lacks + ([] if os.geteuid() == 0 else ["root"])


def main() -> int:
    """Build and run; 0 when all was well, 3 where something needed is not here."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--stand-ins", action="store_true", help="make the base images, do not fetch them")
    asked = parser.parse_args()
    if lacks := missing(asked):
        sys.stdout.write(f"not tried, missing: {', '.join(lacks)}\n")
        return MISSING
    with tempfile.TemporaryDirectory(prefix="baylore-engine-") as name:
        engine = Engine(Path(name))
        if asked.stand_ins:
            stand_ins(engine)
        pull = "--pull-never" if asked.stand_ins else "--pull"
        build = ("bud", "--isolation", "chroot", pull, "--format", "docker", "-f", str(FILE), "-t", NAME)
        engine.run(*build, str(TOP))
        wrong = lived(engine)
    sys.stdout.write(
        "\n".join(wrong or ["built by buildah, healthy as its own user, ended when told"]) + "\n"
    )
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
