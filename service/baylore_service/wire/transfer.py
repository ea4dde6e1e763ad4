"""Lines of the export and import, and the report of an import."""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from baylore_service.wire import fields as f
from baylore_service.wire import people as p
from baylore_service.wire import values as v
from baylore_service.wire.complaint import Words


class ReadingLine(v.Reading, frozen=True):
    """A reading of a line, with its moment and member."""

    at: f.Moment | None = None
    by: f.Name | None = None


class TestLine(v.Test, frozen=True):
    """A test of a line, with its moment and member."""

    at: f.Moment | None = None
    by: f.Name | None = None


class PartLine(v.Part, frozen=True):
    """A part of a line, with its moment and member."""

    at: f.Moment | None = None
    by: f.Name | None = None


class RepairLine(v.Repair, frozen=True):
    """A repair of a line, with its moment and member."""

    at: f.Moment | None = None
    by: f.Name | None = None


class SkipLine(v.Skip, frozen=True):
    """A skipped test of a line, with its moment and member."""

    at: f.Moment | None = None
    by: f.Name | None = None


class ObjectionLine(v.Objection, frozen=True):
    """An objection of a line, with its moment and member."""

    at: f.Moment | None = None
    by: f.Name | None = None


class PhotoEntry(f.Incoming, frozen=True):
    """A photo named in a case line; its bytes come in a line of their own."""

    id: f.Id
    type: f.Word = ""
    bytes: int = 0
    note: f.ShortText = ""
    step: f.Id | None = None
    at: f.Moment | None = None
    by: f.Name | None = None


class CostLine(f.Incoming, frozen=True):
    """Money of the job; the total is worked out anew. A credit in `other` is negative."""

    parts: f.Money = 0.0
    labour: f.Money = 0.0
    other: f.Credit = 0.0
    total: f.Credit | None = None
    currency: f.Word = ""


class TakenLine(f.Incoming, frozen=True):
    """What another record of the visit got from this one."""

    steps: tuple[f.Id, ...] = ()
    photos: tuple[f.Id, ...] = ()
    codes: v.Codes = ()
    symptoms: v.Symptoms = ()
    shows_when: v.ShowsWhen = ()
    vehicle: tuple[f.Word, ...] = ()
    fields: tuple[f.Word, ...] = ()
    note: bool = False


class CaseLine(f.Incoming, frozen=True):
    """A case of a file: what `GET /api/cases/{id}` answers, most of it optional."""

    complaint: Words
    kind: Literal["case"] = "case"
    id: f.Id | None = None
    state: f.State | None = None
    revision: int = 0
    title: f.Title = ""
    opened: f.Moment | None = None
    closed: f.Moment | None = None
    updated: f.Moment | None = None
    vehicle: v.Vehicle = v.Vehicle()
    symptoms: v.Symptoms = ()
    codes: v.Codes = ()
    comes_and_goes: bool = False
    shows_when: v.ShowsWhen = ()
    as_typed: v.AsTyped = ()
    readings: Annotated[tuple[ReadingLine, ...], Meta(max_length=400)] = ()
    tests: Annotated[tuple[TestLine, ...], Meta(max_length=400)] = ()
    parts: Annotated[tuple[PartLine, ...], Meta(max_length=400)] = ()
    repairs: Annotated[tuple[RepairLine, ...], Meta(max_length=400)] = ()
    skipped: Annotated[tuple[SkipLine, ...], Meta(max_length=400)] = ()
    objections: Annotated[tuple[ObjectionLine, ...], Meta(max_length=400)] = ()
    photos: Annotated[tuple[PhotoEntry, ...], Meta(max_length=400)] = ()
    cause: f.CauseId | None = None
    cause_title: f.Title = ""
    cause_system: f.ListedId | None = None
    correction: f.ShortText | v.Correction | None = None
    confirmed_by: f.ListedId | None = None
    verification: f.ShortText = ""
    verified: bool = False
    unresolved_reason: f.Reason | None = None
    note: f.LongText = ""
    labour: v.Labour = v.Labour()
    cost: CostLine = CostLine()
    comeback_of: f.Id | None = None
    returned_as: tuple[f.Id, ...] = ()
    joined_into: f.Id | None = None
    taken: TakenLine | None = None
    joined: tuple[f.Id, ...] = ()
    apart_from: tuple[f.Id, ...] = ()
    by: f.Name | None = None


class ShopLine(f.Incoming, frozen=True):
    """The shop of a file; kept for the reader, not taken over."""

    kind: Literal["shop"]
    id: f.Word | UnsetType = UNSET
    name: f.Name | UnsetType = UNSET
    currency: f.Word | UnsetType = UNSET
    unit_system: f.UnitSystem | UnsetType = UNSET
    rate_per_hour: float | UnsetType = UNSET
    time_zone: f.Name | UnsetType = UNSET
    lacks: tuple[str, ...] | UnsetType = UNSET
    rights: tuple[p.Right, ...] | UnsetType = UNSET
    shares: bool | UnsetType = UNSET


class PhotoLine(f.Incoming, frozen=True):
    """A photo of a file with its bytes in base64."""

    kind: Literal["photo"]
    case: f.Id
    id: f.Id
    type: Literal["image/jpeg", "image/png", "image/webp"]
    data: bytes
    note: f.ShortText = ""
    step: f.Id | None = None
    at: f.Moment | None = None
    by: f.Name | None = None


class BadLine(f.Outgoing, frozen=True):
    """A line that was not understood."""

    line: int
    field: str
    detail: str
    remedy: str


class Double(f.Outgoing, frozen=True):
    """A line that tells of a visit already written down; `of` is the other record, `of_line` its line."""

    line: int
    case: str
    of: str
    of_line: int | None
    exact: bool
    why: tuple[str, ...]


class ImportReport(f.Outgoing, frozen=True):
    """What an import did.

    `same` lines say the very same as another record, `alike` lines nearly, `in_file` of both as an earlier
    line: all were taken, none was merged or left out; `doubles` names the first 200.
    """

    added: int
    unchanged: int
    updated: int
    refused: int
    lines: tuple[BadLine, ...]
    same: int
    alike: int
    in_file: int
    doubles: tuple[Double, ...]
