"""Cars named in real texts, and real makes, models and engines, where the data lie beside the project.

Sources: complaint narratives of the US NHTSA Office of Defects Investigation (vehicle_mentions: rows with
"contact owns a YEAR MAKE MODEL"); vehicle list 1984-2015 of the US EPA, fueleconomy.gov. Both public domain.
"""

import csv
import gzip
import json
import os
import random
from functools import cache
from pathlib import Path

import pytest

from baylore_kb.index import Snapshot
from baylore_kb.question import understand
from baylore_kb.trade import load
from baylore_kb.values import Case, Complaint, Vehicle
from baylore_kb.vehicle import Cars, name_key
from baylore_kb.vehicle.names import same_make

DATA = Path(os.environ.get("BAYLORE_OUTSIDE_DATA", "absent"))
MENTIONS = DATA / "complaint-narratives" / "vehicle_mentions.jsonl.gz"
LISTED = DATA / "vehicle-catalogue" / "vehicles.csv.gz"
needs_mentions = pytest.mark.skipif(
    not MENTIONS.is_file(), reason="BAYLORE_OUTSIDE_DATA holds no vehicle mentions"
)
needs_list = pytest.mark.skipif(not LISTED.is_file(), reason="BAYLORE_OUTSIDE_DATA holds no vehicle list")


@cache
def mentions():
    with gzip.open(MENTIONS, "rt", encoding="utf-8") as lines:
        return [json.loads(line) for line in lines]


@cache
def listed():
    with gzip.open(LISTED, "rt", encoding="utf-8") as lines:
        return list(csv.DictReader(lines))


def engine(row):
    return f"{row['displ_l']} l {row['cyl']} cyl {row['fuel']}"


@cache
def cars():
    return Cars.of(Vehicle(int(r["year"]), r["make"], r["model"], engine(r)) for r in listed())


@cache
def shop():
    """A shop that has seen one car of each make and model of the mentions."""
    kinds = sorted({(row["make"], row["model"]) for row in mentions()})
    return Snapshot.build(
        [Case(f"c{n}", Complaint("noise", Vehicle(None, *kind))) for n, kind in enumerate(kinds)],
        trade=load(),
    )


@cache
def read_in_the_mentions():
    """Each row with the car understood of its text."""
    return [(understand(Complaint(row["text"]), shop()).car.vehicle, row) for row in mentions()]


@needs_mentions
def test_year_and_make_are_right_for_every_car_named_in_a_narrative():
    wrong = [
        row["text"][:60]
        for car, row in read_in_the_mentions()
        if car.year != int(row["year"]) or not same_make(car.make, row["make"])
    ]
    assert wrong == []


@needs_mentions
def test_the_model_is_right_for_nearly_every_one():
    read = read_in_the_mentions()
    right = sum(name_key(car.model) == name_key(row["model"]) for car, row in read)
    assert right >= 0.98 * len(read)


@needs_list
def test_every_lookup_by_make_model_and_year_offers_the_engine_it_came_with():
    chance = random.Random(7)
    asked = chance.sample(listed(), 800)
    found = (
        cars().engines(cars().named(Vehicle(int(r["year"]), r["make"].lower(), r["model"].upper())))
        for r in asked
    )
    assert [r["id"] for r, engines in zip(asked, found, strict=True) if engine(r) not in engines] == []


@needs_list
def test_one_slip_in_a_model_name_is_read_as_the_model_or_left_alone():
    chance = random.Random(7)
    names = [r for r in chance.sample(listed(), 800) if len(r["model"]) >= 6 and r["model"].isalpha()]
    read = [
        (cars().named(Vehicle(None, r["make"], _slip(r["model"], chance))).model, r["model"]) for r in names
    ]
    known = {name_key(r["model"]) for r in listed()}
    assert sum(name_key(a) == name_key(b) for a, b in read) >= 0.95 * len(read)
    assert sum(name_key(a) != name_key(b) and name_key(a) in known for a, b in read) <= 0.02 * len(read)


def _slip(name, chance):
    """A letter left out, doubled, or two swapped, never the first or the last."""
    at, kind = chance.randrange(1, len(name) - 1), chance.randrange(3)
    return (
        name[:at]
        + (name[at + 1 :], name[at:][:1] + name[at:], name[at + 1] + name[at] + name[at + 2 :])[kind]
    )
