"""Checks of a whole case, and of single fields of it, by one table."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from datetime import datetime
from typing import Any, get_args

from baylore_kb.trade.model import Trade
from baylore_kb.values import CaseState
from baylore_service.desk.checks import known, plain, values
from baylore_service.store.records import CaseFile, Stamp, Unresolved

Check = Callable[[Any, Trade, datetime], Any]
MOST_STEPS, MOST_CODES, MOST_WHEN, MOST_TYPED = 400, 100, 20, 40


def _steps(field: str, held: str, check: Callable[..., Any]) -> Check:
    """Checks the steps of one kind: their stamps, and the values they hold."""

    def _check(steps: Any, trade: Trade, now: datetime) -> Any:
        for at, step in enumerate(_few(steps, field=field)):
            _stamp(step.stamp, now, field=f"{field}[{at}]")
            check(getattr(step, held), trade, field=f"{field}[{at}]")
        return steps

    return _check


def _stamp(stamp: Stamp, now: datetime, *, field: str) -> None:
    plain.said(stamp.id, most=64, field=f"{field}.id")
    plain.text(stamp.by or "", most=plain.NAME, field=f"{field}.by")
    plain.not_ahead(stamp.at, now, field=f"{field}.at")


def _few(items: Any, *, field: str, most: int = MOST_STEPS) -> Any:
    if len(items) > most:
        plain.refuse(f"{len(items)} entries are too many", field=field, remedy=f"give at most {most}")
    return items


def _text(field: str, most: int) -> Check:
    return lambda value, trade, now: plain.text(value, most=most, field=field)


def _system(value: Any, trade: Trade, now: datetime) -> Any:
    return value and known.system(value, trade, field="cause_system")


def _cause(value: Any, trade: Trade, now: datetime) -> Any:
    return value and known.cause(value, trade, field="cause")


def _test_id(value: Any, trade: Trade, now: datetime) -> Any:
    return value and known.listed(value, trade.tests, field="confirmed_by", what="test")


def _one_of(field: str, words: Iterable[str]) -> Check:
    return lambda value, trade, now: value and known.listed(value, words, field=field, what=field)


def _not_ahead(field: str) -> Check:
    def _check(value: Any, trade: Trade, now: datetime) -> Any:
        plain.not_ahead(value, now, field=field)
        return value

    return _check


CHECKS: Mapping[str, Check] = {
    "id": lambda value, trade, now: plain.said(value, most=64, field="id"),
    "state": _one_of("state", get_args(CaseState)),
    "title": _text("title", plain.TITLE),
    "opened": _not_ahead("opened"),
    "closed": _not_ahead("closed"),
    "updated": _not_ahead("updated"),
    "complaint_text": lambda value, trade, now: plain.said(value, most=plain.COMPLAINT, field="complaint"),
    "vehicle": lambda value, trade, now: values.vehicle(value, trade, this_year=now.year),
    "symptoms": lambda value, trade, now: values.symptoms(_few(value, field="symptoms"), trade),
    "codes": lambda value, trade, now: values.codes(_few(value, field="codes", most=MOST_CODES)),
    "shows_when": lambda value, trade, now: values.shows_when(
        _few(value, field="shows_when", most=MOST_WHEN)
    ),
    "as_typed": lambda value, trade, now: tuple(
        dict.fromkeys(_few(value, field="as_typed", most=MOST_TYPED))
    ),
    "readings": _steps("readings", "reading", values.reading),
    "tests": _steps("tests", "test", values.test),
    "parts": _steps("parts", "part", values.part),
    "repairs": _steps("repairs", "repair", values.repair),
    "skipped": _steps("skipped", "skipped", values.skipped),
    "objections": _steps("objections", "objection", values.objection),
    "cause": _cause,
    "cause_title": _text("cause_title", plain.TITLE),
    "cause_system": _system,
    "correction": lambda value, trade, now: value and values.correction(value, trade),
    "confirmed_by": _test_id,
    "verification": _text("verification", plain.SHORT),
    "unresolved_reason": _one_of("unresolved_reason", get_args(Unresolved)),
    "note": _text("note", plain.LONG),
    "labour": lambda value, trade, now: values.labour(value),
}


def checked(file: CaseFile, trade: Trade, now: datetime, *, only: Iterable[str] | None = None) -> CaseFile:
    """The case with its values in their own form; of its fields only those named, else all.

    Raises BadValue, MalformedVin, MalformedCode.
    """
    if only is None:
        _unique(file)
    names = CHECKS if only is None else [name for name in only if name in CHECKS]
    return replace(file, **{name: CHECKS[name](getattr(file, name), trade, now) for name in names})


def _unique(file: CaseFile) -> None:
    seen: set[str] = set()
    for step in file.steps:
        if step.stamp.id in seen:
            plain.refuse(
                f"step {step.stamp.id[:80]!r} is there twice", field="id", remedy="give each step its own id"
            )
        seen.add(step.stamp.id)
