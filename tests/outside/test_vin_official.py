"""VINs against the official decodes of the US agency's decoder, where the data lie beside the project."""

import gzip
import json
import os
from pathlib import Path

import pytest

from baylore_kb.errors import MalformedVin
from baylore_kb.vin import read_vin

FOLDER = Path(os.environ.get("BAYLORE_OUTSIDE_DATA", "absent")) / "vin"
pytestmark = pytest.mark.skipif(not FOLDER.is_dir(), reason="BAYLORE_OUTSIDE_DATA holds no vin folder")


def rows(name):
    with gzip.open(FOLDER / name, "rt", encoding="utf-8") as lines:
        return [json.loads(line) for line in lines]


def right(vin):
    try:
        return read_vin(vin).check_ok
    except MalformedVin:
        return False


def test_every_official_vin_is_right():
    assert [row["vin"] for row in rows("decoded.jsonl.gz") if not right(row["vin"])] == []


def test_every_damaged_vin_is_judged_by_the_arithmetic():
    assert [row for row in rows("damaged.jsonl.gz") if right(row["vin"]) != row["valid"]] == []


def test_the_model_year_agrees_but_for_heavy_trucks_and_motorcycles():
    years = [(read_vin(row["vin"]).year, row["model_year"]) for row in rows("decoded.jsonl.gz")]
    assert sum(ours != official for ours, official in years) <= 5


def test_the_makers_name_shares_a_word_with_the_official_one_mostly():
    named = [
        (read_vin(row["vin"]).maker, row["make"] + " " + row["manufacturer"])
        for row in rows("decoded.jsonl.gz")
    ]
    shared = sum(any(w in official.upper().split() for w in ours.upper().split()) for ours, official in named)
    assert shared >= 0.85 * len(named)
