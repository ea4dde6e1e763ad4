"""Lines of an export, and what an import did."""

from __future__ import annotations

import base64
from dataclasses import asdict
from typing import Any

from msgspec import structs

from baylore_service.desk.transfer import ImportReport, Moved
from baylore_service.store.records import CaseFile, PhotoBlob
from baylore_service.store.records.own import OwnEntry
from baylore_service.wire import show
from baylore_service.wire import transfer as t
from baylore_service.wire.decode import encode
from baylore_service.wire.own_lines import fields_of


def line_of(moved: Moved) -> bytes:
    """One line of the file, with its newline."""
    return encode(_fields(moved)) + b"\n"


def _fields(moved: Moved) -> dict[str, Any]:
    if isinstance(moved, CaseFile):
        return {"kind": "case"} | structs.asdict(show.case(moved)) | _twice_fields(moved)
    if isinstance(moved, PhotoBlob):
        return {"kind": "photo", "case": moved.case_id} | _photo_fields(moved)
    if isinstance(moved, OwnEntry):
        return fields_of(moved)
    return {"kind": "shop"} | structs.asdict(show.shop(moved))


def _twice_fields(file: CaseFile) -> dict[str, Any]:
    """What is kept of a visit written twice and travels in files only."""
    taken = {"taken": asdict(file.taken)} if file.taken else {}
    return taken | ({"apart_from": file.apart_from} if file.apart_from else {})


def _photo_fields(blob: PhotoBlob) -> dict[str, Any]:
    """A photo with its bytes in base64."""
    fields = structs.asdict(show.photo(blob.photo))
    fields.pop("bytes")
    return fields | {"data": base64.b64encode(blob.data).decode()}


def import_report(report: ImportReport) -> t.ImportReport:
    """What an import did, with the lines that were refused."""
    lines = tuple(t.BadLine(each.line, each.field, each.detail, each.remedy) for each in report.lines)
    twice = tuple(t.Double(d.line, d.case, d.of, d.of_line, d.exact, d.why) for d in report.doubles.named)
    counts = (report.added, report.unchanged, report.updated, report.refused)
    return t.ImportReport(
        *counts, lines, report.doubles.exact, report.doubles.near, report.doubles.in_file, twice
    )
