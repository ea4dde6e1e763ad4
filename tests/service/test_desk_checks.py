"""What cannot be is refused at the desk, by the name of its field and with a way out."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.service.house_fixtures import CABLE, CRANKING, DROP, MORNING

from baylore_kb import values as kb
from baylore_kb.errors import BayloreError
from baylore_service.desk import cases, steps
from baylore_service.desk.checks import known, plain
from baylore_service.desk.house import House
from baylore_service.errors import BadValue
from baylore_service.store.records import Actor, CaseDraft, CaseFile, New

TOO_LONG = "x" * 9000
DRAFTS: list[tuple[str, dict[str, Any]]] = [
    ("complaint", {"complaint_text": "  "}),
    ("complaint", {"complaint_text": TOO_LONG}),
    ("complaint", {"complaint_text": "nul \0 inside"}),
    ("complaint", {"complaint_text": "half a sign \ud83d"}),
    ("note", {"note": TOO_LONG}),
    ("opened", {"opened": MORNING + timedelta(days=400)}),
    ("vehicle.year", {"vehicle": kb.Vehicle(year=1903)}),
    ("vehicle.year", {"vehicle": kb.Vehicle(year=2031)}),
    ("vehicle.make", {"vehicle": kb.Vehicle(make="x" * 61)}),
    ("vehicle.vin", {"vehicle": kb.Vehicle(vin="NOTAVIN")}),
    ("vehicle.traits", {"vehicle": kb.Vehicle(traits=frozenset({"pterol"}))}),
    ("vehicle.odometer.unit", {"vehicle": kb.Vehicle(odometer=kb.Measure(1.0, "volt"))}),
    ("vehicle.odometer.value", {"vehicle": kb.Vehicle(odometer=kb.Measure(-1.0, "km"))}),
    ("symptoms[0]", {"symptoms": ("no_crank_clik",)}),
    ("codes[1]", {"codes": ("P0301", "P9")}),
    ("readings[0].quantity", {"readings": (New(replace(CRANKING, quantity="crank_vv")),)}),
    ("readings[0].unit", {"readings": (New(replace(CRANKING, unit="psi")),)}),
    ("readings[0].unit", {"readings": (New(replace(CRANKING, unit="furlong per mug")),)}),
    ("readings[0].value", {"readings": (New(replace(CRANKING, value=float("nan"))),)}),
    ("tests[1].test", {"tests": (New(DROP), New(replace(DROP, test="crank_drop")))}),
    ("tests[0].outcome", {"tests": (New(replace(DROP, outcome="hihg")),)}),
    ("tests[0].minutes", {"tests": (New(replace(DROP, minutes=-4.0)),)}),
    ("tests[0].part", {"tests": (New(replace(DROP, part="nothing.like.it")),)}),
    ("parts[0].component", {"parts": (New(replace(CABLE, component="flux.capacitor")),)}),
    ("parts[0].price", {"parts": (New(replace(CABLE, price=float("inf"))),)}),
    ("id", {"tests": (New(DROP, "same"),), "parts": (New(CABLE, "same"),)}),
]


@pytest.mark.parametrize(("field", "fields"), DRAFTS)
def test_a_draft_with_a_bad_value_names_it_and_is_not_kept(
    house: House, tech: Actor, field: str, fields: dict[str, Any]
) -> None:
    with pytest.raises((BadValue, BayloreError)) as refused:
        cases.open_case(house, tech, replace(CaseDraft("no crank"), **fields))
    assert refused.value.field == field and refused.value.remedy  # type: ignore[union-attr]
    assert cases.list_cases(house, tech, cases.CaseFilter()).items == ()


def test_a_bad_step_is_named_without_a_place_before_it(house: House, tech: Actor, opened: CaseFile) -> None:
    with pytest.raises(BadValue) as refused:
        steps.add_reading(house, tech, opened.id, replace(CRANKING, unit="psi"))
    assert refused.value.field == "unit" and "V" in refused.value.remedy
    with pytest.raises(BadValue, match="crank_drop_neg") as wrong:
        steps.add_test(house, tech, opened.id, replace(DROP, outcome="hihg"))
    assert wrong.value.field == "outcome" and "high" in wrong.value.remedy


def test_a_condition_nobody_listed_is_kept(house: House, tech: Actor, opened: CaseFile) -> None:
    noted = replace(CRANKING, conditions={"after_a_drive": True, "battery_temp_c": kb.Measure(9.0, "degC")})
    steps.add_reading(house, tech, opened.id, noted)
    with pytest.raises(BadValue) as refused:
        wrong = replace(CRANKING, conditions={"battery_temp_c": kb.Measure(9.0, "psi")})
        steps.add_reading(house, tech, opened.id, wrong)
    assert refused.value.field == "conditions.battery_temp_c.unit"


@given(st.text())
def test_checked_text_can_be_kept_by_any_database(text: str) -> None:
    try:
        kept = plain.text(text, most=100, field="note")
    except BadValue:
        return
    assert kept.encode().decode() == kept and "\0" not in kept


@given(st.text(min_size=1, max_size=100))
def test_the_same_words_are_the_same_cause_of_ones_own(title: str) -> None:
    try:
        id = known.own_cause_id(title)
    except BadValue:
        return
    assert id == known.own_cause_id(f" ({title}! ") and id > known.OWN and " " not in id


@pytest.mark.parametrize(
    ("title", "id"),
    [
        ("Chewed cable!", "own.chewed_cable"),
        ("chewed  CABLE", "own.chewed_cable"),
        ("Масса двигателя", "own.масса_двигателя"),
    ],
)
def test_an_own_cause_is_named_by_its_words(title: str, id: str) -> None:
    assert known.own_cause_id(title) == id


def test_words_without_a_letter_are_no_cause() -> None:
    with pytest.raises(BadValue) as refused:
        known.own_cause_id(" ?! ")
    assert refused.value.field == "own_cause.title"
