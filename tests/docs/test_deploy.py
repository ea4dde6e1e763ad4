"""What stands in deploy/ is sound: units, timers, the backup script, container and proxy files."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import tomllib
from dataclasses import fields
from pathlib import Path

import pytest
import yaml
from tests.image import FILE, health_check, left_out, stages
from tests.postgres import free_port

from baylore_service.settings import Settings
from baylore_service.store.migrate import upgrade

DEPLOY = Path(__file__).parents[2] / "deploy"
IMAGE = stages(FILE.read_text())
UNITS = sorted((DEPLOY / "systemd").iterdir())
BAYLORE = Path(sys.executable).with_name("baylore")
NAMES = {name for each in fields(Settings) for name in each.metadata["names"]}
KNOWN = NAMES | {f"{name}_FILE" for name in NAMES} | {"BAYLORE"}
NEEDED = (
    "ProtectSystem=strict",
    "NoNewPrivileges=yes",
    "CapabilityBoundingSet=",
    "User=baylore",
    "UMask=0077",
)


@pytest.mark.skipif(not shutil.which("systemd-analyze"), reason="no systemd-analyze on this machine")
def test_systemd_takes_every_unit_and_timer(tmp_path: Path) -> None:
    for unit in UNITS:
        text = re.sub(r"/opt/baylore/\S*/(baylore|backup)(?= )", "/bin/true", unit.read_text())
        (tmp_path / unit.name).write_text(text)
    command = ["systemd-analyze", "verify", "--man=no", *map(str, sorted(tmp_path.iterdir()))]
    found = subprocess.run(command, capture_output=True, text=True, timeout=60)
    assert (found.returncode, found.stderr) == (0, "")


@pytest.mark.parametrize("unit", [unit for unit in UNITS if unit.suffix == ".service"], ids=lambda u: u.name)
def test_a_unit_gives_the_service_no_more_than_it_needs(unit: Path) -> None:
    lines = unit.read_text().splitlines()
    assert [line for line in NEEDED if line not in lines] == []


def test_deploy_files_name_only_settings_there_are() -> None:
    texts = [file.read_text() for file in DEPLOY.rglob("*") if file.is_file() and "lock" not in file.name]
    named = {name for text in texts for name in re.findall(r"\bBAYLORE_[A-Z_]+\b", text)}
    assert named - KNOWN - {"BAYLORE_AT", "BAYLORE_VENV", "BAYLORE_NODE_PACKAGE"} == set()


def test_the_containers_start_in_an_order_that_works() -> None:
    parts = yaml.safe_load((DEPLOY / "container" / "compose.yaml").read_text())["services"]
    assert parts["one"]["depends_on"]["migrate"]["condition"] == "service_completed_successfully"
    assert parts["migrate"]["depends_on"]["database"]["condition"] == "service_healthy"
    assert parts["two"] == parts["one"]


def test_an_image_is_built_of_what_is_there_and_is_sent() -> None:
    names = [stage.name for stage in IMAGE]
    for at, stage in enumerate(IMAGE):
        for what in stage.all("COPY"):
            *sources, _ = [part for part in what.split() if not part.startswith("--")]
            if giver := re.search(r"--from=(\S+)", what):
                assert giver[1] in names[:at]
            else:
                assert all((DEPLOY.parent / name).exists() and name not in left_out() for name in sources), (
                    what
                )


def test_the_wheel_of_the_image_is_built_of_all_it_names() -> None:
    wheel = next(stage for stage in IMAGE if stage.name == "wheel")
    copied = {name for what in wheel.all("COPY") for name in what.split()}
    project = tomllib.loads((DEPLOY.parent / "pyproject.toml").read_text())
    built = project["tool"]["hatch"]["build"]["targets"]["wheel"]
    wanted = {*built["packages"], *built["force-include"], *project["project"]["license-files"]}
    wanted |= {project["project"]["readme"], "pyproject.toml"}
    assert {each for each in wanted if not {each, each.partition("/")[0]} & copied} == set()
    lock = (DEPLOY / "requirements.lock").read_text()
    assert all(f"\n{each}==" in lock for each in project["build-system"]["requires"])


def test_the_image_runs_as_nobody_in_particular_and_says_when_it_is_unwell() -> None:
    last = IMAGE[-1]
    assert re.fullmatch(r"[1-9]\d{3,}(:[1-9]\d{3,})?", last.all("USER")[-1])
    order = [step.do for step in last.steps]
    assert order.index("USER") < order.index("CMD") and json.loads(last.all("CMD")[0])[0] == "baylore"
    check = [sys.executable, *health_check(last, free_port())[1:]]
    assert subprocess.run(check, capture_output=True, timeout=30).returncode != 0


def test_where_no_engine_is_it_says_so(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "tests.engine", "--stand-ins"]
    env = os.environ | {"PATH": str(tmp_path)}
    done = subprocess.run(command, cwd=DEPLOY.parent, env=env, capture_output=True, text=True, timeout=30)
    assert done.returncode == 3 and done.stdout.startswith("not tried, missing: buildah, mmdebstrap")


@pytest.mark.skipif(not shutil.which("hadolint"), reason="no hadolint on this machine")
def test_hadolint_finds_nothing_in_the_containerfile() -> None:
    done = subprocess.run(["hadolint", FILE], capture_output=True, text=True, timeout=60)
    assert (done.returncode, done.stdout) == (0, "")


def test_the_backup_script_keeps_the_newest_whole_copies(tmp_path: Path) -> None:
    upgrade(Settings(data=tmp_path / "data").store_url)
    copies = tmp_path / "copies"
    copies.mkdir()
    for day in range(3):
        (copies / f"baylore-2026010{day}T000000Z.db").write_text("old")
    (copies / "baylore-notes.txt").write_text("not a copy")
    env = {**os.environ, "BAYLORE_DATA": str(tmp_path / "data"), "BAYLORE": str(BAYLORE), "KEEP": "2"}
    subprocess.run(["sh", DEPLOY / "backup", copies], env=env, check=True, timeout=120, capture_output=True)
    left = sorted(file.name for file in copies.iterdir())
    assert len(left) == 3 and left[0] == "baylore-20260102T000000Z.db" and "baylore-notes.txt" in left


def test_a_backup_that_fails_removes_no_copy(tmp_path: Path) -> None:
    copies = tmp_path / "copies"
    copies.mkdir()
    for day in range(3):
        (copies / f"baylore-2026010{day}T000000Z.db").write_text("old")
    env = {**os.environ, "BAYLORE": "/bin/false", "KEEP": "1"}
    done = subprocess.run(["sh", DEPLOY / "backup", copies], env=env, timeout=60, capture_output=True)
    assert done.returncode and len(list(copies.iterdir())) == 3
