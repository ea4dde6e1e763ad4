"""VINs against the official decodes of the US agency's decoder, where the data lie beside the project."""

import gzip
import json
import os
from pathlib import Path

import pytest

from baylore_kb.errors import MalformedVin
from baylore_kb.values import Vehicle
from baylore_kb.vehicle import filled_by_vin, vin_says
from baylore_kb.vehicle.names import same_make
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


def test_where_the_year_is_not_the_official_one_the_other_cycle_is_said():
    # no row was built after 2026, when the rows were gathered
    read = [(read_vin(row["vin"], this_year=2026), row["model_year"]) for row in rows("decoded.jsonl.gz")]
    wrong = [(ours, official) for ours, official in read if ours.year != official]
    assert len(wrong) <= 2
    assert all(ours.other_year == official for ours, official in wrong)


def test_the_vin_seldom_doubts_a_make_that_was_rightly_typed():
    doubted = [
        said
        for row in rows("decoded.jsonl.gz")
        if (said := vin_says(Vehicle(row["model_year"], row["make"], vin=row["vin"]), this_year=2026))
        and any("maker" in each for each in said.against)
    ]
    assert len(doubted) <= 0.08 * len(rows("decoded.jsonl.gz"))


def test_empty_fields_are_filled_with_the_official_year_and_mostly_the_make():
    filled = [
        (filled_by_vin(Vehicle(vin=row["vin"]), this_year=2026), row) for row in rows("decoded.jsonl.gz")
    ]
    assert sum(car.year != row["model_year"] for car, row in filled) <= 2
    assert sum(same_make(car.make, row["make"]) for car, row in filled) >= 0.88 * len(filled)


def test_the_makers_name_shares_a_word_with_the_official_one_mostly():
    named = [
        (read_vin(row["vin"]).maker, row["make"] + " " + row["manufacturer"])
        for row in rows("decoded.jsonl.gz")
    ]
    shared = sum(any(w in official.upper().split() for w in ours.upper().split()) for ours, official in named)
    assert shared >= 0.85 * len(named)
