"""Follows the Containerfile where no engine is: each step by hand, in folders that stand for the image's.

`python -m tests.image` builds client and wheel from what a build would be sent, runs the command as an
unprivileged user, waits for the health check, and stops it. Needs root, npm and the network.
"""

from __future__ import annotations

import argparse
import json
import os
import pwd
import re
import shlex
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass, field
from pathlib import Path

from tests.postgres import free_port

TOP = Path(__file__).parents[1]
FILE = TOP / "deploy" / "container" / "Containerfile"
HEALTHY_WITHIN_S = 90.0
# One place in all stages, as scripts in it name it; the rest is a stage's own.
SHARED = ("/opt/baylore", "/data")


@dataclass(frozen=True)
class Step:
    """A line of the file: what to do, and with what."""

    do: str
    what: str


@dataclass
class Stage:
    """A stage by its name (its number where it has none), what it begins with, and its steps."""

    name: str
    begins_with: str
    steps: list[Step] = field(default_factory=list)

    def all(self, do: str) -> list[str]:
        """What all steps of a kind are given."""
        return [step.what for step in self.steps if step.do == do]


def stages(text: str) -> list[Stage]:
    """The stages of a Containerfile; lines that go on are joined, comments left out."""
    plain = re.sub(r"\\\n\s*", "", "\n".join(x for x in text.splitlines() if not x.startswith("#")))
    found: list[Stage] = []
    for line in filter(str.strip, plain.splitlines()):
        do, what = line.split(maxsplit=1)
        if do == "FROM":
            image, _, name = what.partition(" AS ")
            found.append(Stage(name or str(len(found)), image))
        else:
            found[-1].steps.append(Step(do, what))
    return found


def left_out() -> set[str]:
    """Paths that are not sent to a build."""
    lines = (TOP / ".dockerignore").read_text().splitlines()
    return {line for line in lines if line and not line.startswith("#")}


def ignored(folder: str, names: list[str]) -> set[str]:
    """Those of a folder's names that are not sent."""
    out = left_out()
    place = Path(folder).relative_to(TOP)
    return {name for name in names if f"**/{name}" in out or (place / name).as_posix() in out}


class ByHand:
    """Takes the steps one after the other in a folder; `said` gets each of them."""

    def __init__(self, folder: Path, python: str) -> None:
        self.folder = folder
        self.env = {"PATH": f"{folder / 'bin'}:{os.environ['PATH']}", "HOME": str(folder)}
        (folder / "bin").mkdir()
        (folder / "bin" / "python").symlink_to(python)
        for place in SHARED:
            Path(self.real(place, "")).parent.mkdir(parents=True, exist_ok=True)
        self.work: dict[str, Path] = {}

    def real(self, text: str, stage: str) -> str:
        """The text with the image's folders as they stand here."""
        for place in SHARED:
            text = re.sub(rf"(?<![\w./]){place}\b", f"{self.folder}{place}", text)
        return re.sub(r"(?<![\w./])/src\b", f"{self.folder}/{stage}/src", text)

    def take(self, stage: Stage) -> None:
        """All steps of a stage."""
        self.work[stage.name] = self.folder / stage.name
        for step in stage.steps:
            sys.stdout.write(f"{stage.name}: {step.do} {step.what[:100]}\n")
            sys.stdout.flush()
            act = getattr(self, f"_{step.do.lower()}", None)
            if act:
                act(stage.name, step.what)

    def _workdir(self, stage: str, what: str) -> None:
        self.work[stage] = Path(self.real(what, stage))
        self.work[stage].mkdir(parents=True, exist_ok=True)

    def _copy(self, stage: str, what: str) -> None:
        *sources, target = [part for part in what.split() if not part.startswith("--")]
        giver = re.search(r"--from=(\S+)", what)
        into = self.work[stage] / self.real(target, stage)
        for source in sources:
            origin = Path(self.real(source, giver[1])) if giver else TOP / source
            if origin == into:
                continue
            whole = origin.is_file() or target == "./" and len(sources) > 1
            place = into / origin.name if whole and target.endswith("/") else into
            copied(origin, place, whole_context=giver is None)

    def _run(self, stage: str, what: str) -> None:
        # The machine's own users stay as they are; the folder of the data is made below.
        if "useradd" not in what:
            env = os.environ | self.env
            subprocess.run(self.real(what, stage), shell=True, cwd=self.work[stage], env=env, check=True)

    def _env(self, stage: str, what: str) -> None:
        for name, value in (pair.split("=", 1) for pair in shlex.split(what)):
            self.env[name] = self.real(value, stage).replace("$PATH", self.env["PATH"])

    def lived(self, stage: Stage) -> bool:
        """Whether the command gets healthy as nobody, writing to its data alone, and ends well when told."""
        port, data = free_port(), Path(self.real("/data", ""))
        who = pwd.getpwnam("nobody")
        data.mkdir(mode=0o700)
        shutil.chown(data, who.pw_uid, who.pw_gid)
        env = self.env | {
            "BAYLORE_PORT": str(port),
            "HOME": str(data),
            "NUMBA_CACHE_DIR": str(data / "numba"),
        }
        as_nobody = {
            "user": who.pw_uid,
            "group": who.pw_gid,
            "extra_groups": [],
            "env": env,
            "cwd": str(data),
        }
        command, check = json.loads(stage.all("CMD")[0]), health_check(stage, port)
        subprocess.run([command[0], "migrate"], check=True, **as_nobody)
        served = subprocess.Popen(command, **as_nobody)
        until = time.monotonic() + HEALTHY_WITHIN_S
        healthy = False
        while not healthy and time.monotonic() < until and served.poll() is None:
            time.sleep(1)
            healthy = subprocess.run(check, capture_output=True, **as_nobody).returncode == 0
        served.send_signal(getattr(signal, stage.all("STOPSIGNAL")[0]))
        return healthy and served.wait(60) == 0


def copied(origin: Path, place: Path, *, whole_context: bool) -> None:
    """A file or folder put into its place; from the context without what is not sent."""
    place.parent.mkdir(parents=True, exist_ok=True)
    if origin.is_file():
        shutil.copy(origin, place)
    else:
        shutil.copytree(origin, place, dirs_exist_ok=True, ignore=ignored if whole_context else None)


def health_check(stage: Stage, port: int) -> list[str]:
    """The command of the health check, for another port."""
    command = stage.all("HEALTHCHECK")[0].partition(" CMD ")[2]
    return [part.replace(":8000/", f":{port}/") for part in json.loads(command)]


def main() -> int:
    """Build and run by hand; 0 when it got healthy and ended well."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--python", default="/usr/bin/python3.11", help="one that nobody may run")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="baylore-image-") as name:
        folder = Path(name)
        folder.chmod(0o755)
        hand = ByHand(folder, asked.python)
        made = stages(FILE.read_text())
        for stage in made:
            hand.take(stage)
        good = hand.lived(made[-1])
    sys.stdout.write(f"healthy as nobody, and ended when told: {good}\n")
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
