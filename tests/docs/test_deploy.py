"""What stands in deploy/ is sound: units, timers, the backup script, container and proxy files."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from dataclasses import fields
from pathlib import Path

import pytest
import yaml

from baylore_service.settings import Settings
from baylore_service.store.migrate import upgrade

DEPLOY = Path(__file__).parents[2] / "deploy"
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
    image = (DEPLOY / "container" / "Containerfile").read_text()
    copied = re.findall(r"^COPY (?!--)(.+) \S+$", image, re.MULTILINE)
    assert all((DEPLOY.parent / name).exists() for names in copied for name in names.split())
    assert "\nUSER baylore\n" in image


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
