"""The threat model names every table, every key and tests that are there; alarms name figures that are."""

from __future__ import annotations

import importlib.util
import json
import re
from pathlib import Path
from typing import Any

from baylore_service.store.tables import metadata

ROOT = Path(__file__).parents[2]
TEXT = (ROOT / "service" / "THREATS.md").read_text()
CLASSES = {"words", "people", "secret", "plain"}
SECRETS = ("BAYLORE_DATABASE_URL", "BAYLORE_READ_URL", "BAYLORE_SMTP_PASSWORD")


def test_every_table_has_a_class_and_every_class_its_rules() -> None:
    classed = dict(re.findall(r"^\| `(\w+)` \| (\w+) \|", TEXT, re.MULTILINE))
    assert classed.keys() == metadata.tables.keys() and set(classed.values()) <= CLASSES
    ruled = re.findall(r"^\| (\w+) \|(?:[^|]+\|){5}$", TEXT, re.MULTILINE)
    assert set(ruled) >= CLASSES


def test_every_secret_setting_has_its_row_and_every_test_named_is_there() -> None:
    keys = TEXT.partition("## Keys")[2].partition("## Threats")[0]
    assert all(f"`{name}`" in keys for name in SECRETS)
    named = set(re.findall(r"`(tests/[^`]+)`", TEXT))
    assert len(named) > 12 and [path for path in sorted(named) if not (ROOT / path).exists()] == []


def the_bill() -> dict[str, Any]:
    """What the script writes."""
    spec = importlib.util.spec_from_file_location("bill", ROOT / "deploy" / "bill.py")
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return dict(json.loads(json.dumps(module.bill())))


def test_the_bill_names_every_pin_with_its_digests_and_nothing_that_only_builds() -> None:
    made = {each["purl"]: each for each in the_bill()["components"]}
    lock = (ROOT / "deploy" / "requirements.lock").read_text()
    pins = re.findall(r"^([\w.-]+)==([^ ;\\]+)", lock, re.MULTILINE)
    assert len(pins) > 30
    for name, version in pins:
        assert made[f"pkg:pypi/{name.lower().replace('_', '-')}@{version}"]["hashes"]
    digests = sum(len(each["hashes"]) for purl, each in made.items() if "pypi" in purl)
    assert digests == lock.count("--hash=sha256:")
    node = {purl.partition("@")[0] for purl in made if purl.startswith("pkg:npm/")}
    assert "pkg:npm/preact" in node and "pkg:npm/vite" not in node
    assert any(purl.startswith("pkg:npm/%40preact/signals@") for purl in made)
    assert all(re.fullmatch(r"[0-9a-f]{64,128}", h["content"]) for e in made.values() for h in e["hashes"])
