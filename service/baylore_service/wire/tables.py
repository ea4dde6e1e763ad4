"""Rows as a table for spreadsheets: comma separated, or one JSON object a line."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterable, Mapping
from datetime import datetime
from typing import Any, Literal

import msgspec
from msgspec.structs import asdict

from baylore_kb.recurrence import Recurrence, Recurrences
from baylore_service.wire.office import Overview
from baylore_service.wire.patterns import PartsReport, SourceRow
from baylore_service.wire.say_patterns import say_row

Form = Literal["csv", "jsonl"]
OfficeTable = Literal["cures", "given-away", "diagnosis-minutes"]
MEDIA = {"csv": "text/csv; charset=utf-8", "jsonl": "application/x-ndjson"}
# A cell that begins like this would be run as a formula by a spreadsheet.
_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def recurrence_table(found: Recurrences) -> list[dict[str, Any]]:
    """One flat mapping a row, the same columns in each."""
    return [_flat(row) for row in found.rows]


def _flat(row: Recurrence) -> dict[str, Any]:
    low_km, middle_km, high_km = row.odometer_km or (None, None, None)
    first_year, last_year = row.years or (None, None)
    return {
        **row.key,
        "title": row.title,
        "observed": row.observed,
        "expected": row.expected,
        "ratio": row.ratio,
        "ratio_low": row.low,
        "ratio_high": row.high,
        "p": row.p,
        "q": row.q,
        "signal": row.signal,
        "first": row.first,
        "last": row.last,
        "year_first": first_year,
        "year_last": last_year,
        "since": row.since.month if row.since else None,
        "since_earliest": row.since.earliest if row.since else None,
        "since_latest": row.since.latest if row.since else None,
        "since_times": row.since.times if row.since else None,
        "rise_per_month": row.trend.per_period if row.trend else None,
        "rise_p": row.trend.p if row.trend else None,
        "rising": row.trend.rising if row.trend else None,
        "odometer_km_low": low_km,
        "odometer_km_middle": middle_km,
        "odometer_km_high": high_km,
        "median_minutes": row.median_minutes,
        "median_diagnosis": row.median_diagnosis,
        "median_cost": row.median_cost,
        "total_cost": row.total_cost,
        "comebacks": row.comebacks,
        "first_cured": row.first_cured.count if row.first_cured else None,
        "first_judged": row.first_cured.of if row.first_cured else None,
        "first_cured_low": row.first_cured.low if row.first_cured else None,
        "first_cured_high": row.first_cured.high if row.first_cured else None,
        "visits": row.per_visits.visits if row.per_visits else None,
        "per_100_visits": row.per_visits.per_100 if row.per_visits else None,
        "per_100_visits_low": row.per_visits.low if row.per_visits else None,
        "per_100_visits_high": row.per_visits.high if row.per_visits else None,
        "says": say_row(row),
    }


def parts_table(report: PartsReport) -> list[dict[str, Any]]:
    """One flat mapping a source of a component."""
    return [
        {"component": part.component, "title": part.title, **_source(row)}
        for part in report.components
        for row in part.sources
    ]


def _source(row: SourceRow) -> dict[str, Any]:
    low, middle, high = row.prices or (None, None, None)
    held = {name: value for name, value in asdict(row).items() if name != "prices"}
    return held | {"price_low": low, "price_middle": middle, "price_high": high}


def _cures(found: Overview) -> list[dict[str, Any]]:
    held = {"quarter": found.cures.quarters, "system": found.cures.systems, "kind": found.cures.kinds}
    return [{"by": by, **asdict(row)} for by, rows in held.items() for row in rows]


OFFICE: Mapping[OfficeTable, Callable[[Overview], list[dict[str, Any]]]] = {
    "cures": _cures,
    "given-away": lambda found: [asdict(row) for row in found.losses],
    "diagnosis-minutes": lambda found: [asdict(row) for row in found.times],
}


def written(rows: Iterable[Mapping[str, Any]], form: Form) -> bytes:
    """The rows in a form; nothing gives nothing."""
    held = list(rows)
    if form == "jsonl":
        return b"".join(msgspec.json.encode(row) + b"\n" for row in held)
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    if held:
        writer.writerow(held[0])
    writer.writerows([_cell(value) for value in row.values()] for row in held)
    return out.getvalue().encode()


def _cell(value: Any) -> Any:
    """A value as a cell: text that would be run as a formula is quoted."""
    if isinstance(value, datetime):
        return value.isoformat().replace("+00:00", "Z")
    if isinstance(value, str) and value.startswith(_FORMULA):
        return f"'{value}"
    return "" if value is None else value
