"""Checks of vehicles, readings, tests, parts, corrections and labour against the trade lists."""

from __future__ import annotations

from collections.abc import Iterable
from typing import get_args

from baylore_kb.codes import parse_code
from baylore_kb.conditions import SHOWS_WHEN
from baylore_kb.errors import BayloreError
from baylore_kb.trade.model import Trade
from baylore_kb.units import convert
from baylore_kb.values import (
    ConditionValue,
    Correction,
    Labour,
    Measure,
    Objected,
    Objection,
    PartResult,
    PartTried,
    Reading,
    RepairResult,
    RepairTried,
    Skipped,
    SkipReason,
    SourceKind,
    TestDone,
    Vehicle,
    When,
)
from baylore_kb.vehicle import filled_by_vin
from baylore_service.desk.checks import known, plain

FIRST_YEAR = 1950


def vehicle(car: Vehicle, trade: Trade, *, this_year: int, field: str = "vehicle") -> Vehicle:
    """The vehicle with its VIN in its own form, and what is empty filled from it.

    Raises BadValue, MalformedVin.
    """
    if car.year is not None:
        plain.number(car.year, low=FIRST_YEAR, high=this_year + 1, field=f"{field}.year")
    for name in ("make", "model", "engine", "transmission"):
        plain.text(getattr(car, name), most=plain.WORD, field=f"{field}.{name}")
    for trait in car.traits:
        known.listed(trait, trade.traits, field=f"{field}.traits", what="trait")
    if car.odometer is not None:
        measure(car.odometer, "kilometer", field=f"{field}.odometer")
        plain.number(car.odometer.value, low=0, high=5e6, field=f"{field}.odometer.value")
    return filled_by_vin(car, this_year=this_year, field=f"{field}.vin")


def measure(value: Measure | Reading, unit: str, *, accepted: Iterable[str] = (), field: str) -> None:
    """Raises BadValue unless the number is finite and its unit can be turned into `unit`."""
    plain.number(value.value, low=-plain.MOST_NUMBER, high=plain.MOST_NUMBER, field=_dot(field, "value"))
    plain.text(value.unit, most=plain.WORD, field=_dot(field, "unit"))
    try:
        convert(value.value, value.unit, unit, accepted=accepted)
    except BayloreError as error:
        plain.refuse(error.message, field=_dot(field, "unit"), remedy=error.remedy)


def reading(value: Reading, trade: Trade, *, field: str = "") -> Reading:
    """A reading of a listed quantity in a unit it can have; values beyond its hard limits are kept."""
    known.listed(value.quantity, trade.quantities, field=_dot(field, "quantity"), what="quantity")
    quantity = trade.quantities[value.quantity]
    measure(value, quantity.unit, accepted=quantity.accepted_units, field=field)
    plain.text(value.point, most=plain.TITLE, field=_dot(field, "point"))
    known.listed(value.when, get_args(When), field=_dot(field, "when"), what="time of a reading")
    if len(value.conditions) > 40:
        plain.refuse("too many conditions", field=_dot(field, "conditions"), remedy="give at most 40")
    for name, given in value.conditions.items():
        condition(name, given, trade, field=f"{_dot(field, 'conditions')}.{name[:40]}")
    return value


def condition(name: str, given: ConditionValue, trade: Trade, *, field: str) -> None:
    """A condition; names that are not listed are kept as they are, they only cannot be reckoned with."""
    plain.text(name, most=plain.NAME, field=field)
    if isinstance(given, str):
        plain.text(given, most=plain.TITLE, field=field)
    unit = trade.conditions[name].unit if name in trade.conditions else None
    if isinstance(given, Measure):
        measure(given, unit or given.unit, field=field)
    elif isinstance(given, float):
        plain.number(given, low=-plain.MOST_NUMBER, high=plain.MOST_NUMBER, field=field)


def test(value: TestDone, trade: Trade, *, field: str = "") -> TestDone:
    """A listed test with an outcome it can show."""
    known.listed(value.test, trade.tests, field=_dot(field, "test"), what="test")
    known.outcome(value.test, value.outcome, trade, field=_dot(field, "outcome"))
    plain.text(value.note, most=plain.SHORT, field=_dot(field, "note"))
    if value.minutes is not None:
        plain.minutes(value.minutes, field=_dot(field, "minutes"))
    if value.part is not None:
        known.cause(value.part, trade, field=_dot(field, "part"))
    return value


def part(value: PartTried, trade: Trade, *, field: str = "") -> PartTried:
    """A part of a listed component from a known kind of source."""
    known.listed(value.component, trade.components, field=_dot(field, "component"), what="component")
    known.listed(value.source, get_args(SourceKind), field=_dot(field, "source"), what="source of parts")
    if value.result is not None:
        known.listed(value.result, get_args(PartResult), field=_dot(field, "result"), what="result of a part")
    if value.price is not None:
        plain.money(value.price, field=_dot(field, "price"))
    plain.text(value.note, most=plain.SHORT, field=_dot(field, "note"))
    return value


def repair(value: RepairTried, trade: Trade, *, field: str = "") -> RepairTried:
    """A repair without a new part for a listed cause or one of the shop's own."""
    known.cause(value.cause, trade, field=_dot(field, "cause"))
    known.listed(value.result, get_args(RepairResult), field=_dot(field, "result"), what="result of a repair")
    if value.minutes is not None:
        plain.minutes(value.minutes, field=_dot(field, "minutes"))
    plain.text(value.note, most=plain.SHORT, field=_dot(field, "note"))
    return value


def skipped(value: Skipped, trade: Trade, *, field: str = "") -> Skipped:
    """A listed test, or one of the shop's own, that is not done for a known reason."""
    known.test(value.test, trade, field=_dot(field, "test"))
    known.listed(value.because, get_args(SkipReason), field=_dot(field, "because"), what="reason to skip")
    plain.text(value.note, most=plain.SHORT, field=_dot(field, "note"))
    return value


def objection(value: Objected, trade: Trade, *, field: str = "") -> Objected:
    """A listed cause, or one of the shop's own, held to be wrong for a known reason."""
    known.cause(value.cause, trade, field=_dot(field, "cause"))
    known.listed(value.because, get_args(Objection), field=_dot(field, "because"), what="objection")
    plain.text(value.note, most=plain.SHORT, field=_dot(field, "note"))
    return value


def shows_when(values: Iterable[str], *, field: str = "shows_when") -> tuple[str, ...]:
    """Conditions a fault shows in, each once."""
    each = (
        known.listed(value, SHOWS_WHEN, field=f"{field}[{at}]", what="condition")
        for at, value in enumerate(values)
    )
    return tuple(dict.fromkeys(each))


def correction(value: Correction, trade: Trade, *, field: str = "correction") -> Correction:
    """What was done, on a listed component where one is named."""
    plain.text(value.action, most=plain.NAME, field=f"{field}.action")
    plain.text(value.text, most=plain.SHORT, field=f"{field}.text")
    if value.component is not None:
        known.listed(value.component, trade.components, field=f"{field}.component", what="component")
    return value


def labour(value: Labour, *, field: str = "labour") -> Labour:
    """Minutes and rate that can be."""
    for name in ("diagnosis_min", "repair_min", "not_billed_min"):
        plain.minutes(getattr(value, name), field=f"{field}.{name}")
    if value.rate_per_hour is not None:
        plain.number(value.rate_per_hour, low=0.01, high=1e5, field=f"{field}.rate_per_hour")
    return value


def symptoms(values: Iterable[str], trade: Trade, *, field: str = "symptoms") -> tuple[str, ...]:
    """Listed symptoms, each once."""
    each = (
        known.listed(value, trade.symptoms, field=f"{field}[{at}]", what="symptom")
        for at, value in enumerate(values)
    )
    return tuple(dict.fromkeys(each))


def codes(values: Iterable[str], *, field: str = "codes") -> tuple[str, ...]:
    """Trouble codes in their canonical form, each once. Raises MalformedCode."""
    each = (parse_code(value, field=f"{field}[{at}]") for at, value in enumerate(values))
    return tuple(dict.fromkeys(each))


def _dot(field: str, name: str) -> str:
    return f"{field}.{name}" if field else name
