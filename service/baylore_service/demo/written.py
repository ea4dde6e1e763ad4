"""The jobs written by hand, as cases."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from typing import Any
from uuid import NAMESPACE_URL, uuid5

from baylore_kb.trade.model import Trade
from baylore_kb.values import (
    Case,
    CaseState,
    Complaint,
    Correction,
    Cost,
    Labour,
    Measure,
    PartTried,
    Reading,
    TestDone,
    Vehicle,
)
from baylore_service.demo.job import Job
from baylore_service.demo.pages import written_jobs

WRITER = "Bram Tivey"
OPENS = time(8, 10, tzinfo=UTC)
Row = Mapping[str, Any]


def case_id(name: str) -> str:
    """The id of a demo case; the same name always gives the same."""
    return str(uuid5(NAMESPACE_URL, f"baylore:demo:{name}"))


def hand_written(trade: Trade) -> Iterator[Job]:
    """Each of them, in the order of their files."""
    return (Job(_case(row, trade), WRITER) for row in written_jobs())


def _case(row: Row, trade: Trade) -> Case:
    opened = datetime.combine(date.fromisoformat(str(row["opened"])), OPENS)
    state: CaseState = row["status"]
    case = Case(case_id(row["id"]), _complaint(row), state, row["title"], opened=opened, note=_note(row))
    labour = Labour(**row["labour"])
    worked = labour.diagnosis_min + labour.repair_min
    ended = replace(
        case,
        closed=opened + timedelta(minutes=worked),
        verification=row["verification"],
        labour=labour,
        cost=_cost(row["cost"]),
        **_links(row),
    )
    return _solved(ended, row, trade) if row["cause"] else replace(ended, unresolved_reason=_reason(row))


def _solved(case: Case, row: Row, trade: Trade) -> Case:
    cause = trade.causes[row["cause"]]
    return replace(
        case,
        cause=cause.id,
        cause_title=cause.title,
        cause_system=cause.system,
        correction=Correction(**row["correction"]),
        confirmed_by=row["confirmed_by"],
        verified=not case.returned_as,
    )


def _reason(row: Row) -> str:
    return str(row["closure"]).replace("_", " ")


def _links(row: Row) -> dict[str, Any]:
    link = row.get("comeback") or {}
    after = (case_id(link["returned_as"]),) if "returned_as" in link else ()
    return {"comeback_of": case_id(link["of"]) if "of" in link else None, "returned_as": after}


def _note(row: Row) -> str:
    asks = row.get("ask_next_time")
    more = f"\nask next time: {', '.join(asks)}" if asks else ""
    return f"{row['note'].strip()}{more}"


def _cost(row: Row) -> Cost:
    return Cost(row["parts"], row["labour"], row["other"], row["currency"])


def _complaint(row: Row) -> Complaint:
    car = dict(row["vehicle"])
    return Complaint(
        row["complaint"],
        Vehicle(**{**car, "odometer": Measure(**car["odometer"])}),
        codes=tuple(each["code"] for each in row["codes"]),
        symptoms=tuple(row["symptoms"]),
        readings=tuple(Reading(**each) for each in row["readings"]),
        tests=tuple(TestDone(**each) for each in row["tests"]),
        parts=tuple(_part(each) for each in row["parts_tried"]),
    )


def _part(row: Row) -> PartTried:
    return PartTried(**{name: value for name, value in row.items() if name != "currency"})
