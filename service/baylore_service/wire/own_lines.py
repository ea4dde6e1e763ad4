"""Lines of an export and import about the shop's own lists."""

from __future__ import annotations

from dataclasses import asdict
from datetime import datetime
from typing import Annotated, Any, Literal

from msgspec import Meta, Struct, structs

from baylore_kb.mend import phrase_key
from baylore_kb.trade.own import OwnCause, OwnTest
from baylore_service.desk.checks.known import own_cause_id
from baylore_service.desk.checks.own import test_id
from baylore_service.errors import ServiceError
from baylore_service.store.records.own import OwnEntry, OwnMinutes, OwnValue, OwnWord
from baylore_service.wire import fields as f
from baylore_service.wire import own_lists as o
from baylore_service.wire.decode import decode


class OwnTestLine(o.NewOwnTest, frozen=True):
    """A test of the shop's own."""

    kind: Literal["own_test"] = "own_test"
    id: Annotated[str, Meta(max_length=120, pattern=f.OWN_TEST)] | None = None
    retired: bool = False
    made: f.Moment | None = None
    updated: f.Moment | None = None


class OwnCauseLine(o.NewOwnCause, frozen=True):
    """A cause of the shop's own."""

    kind: Literal["own_cause"] = "own_cause"
    id: Annotated[str, Meta(max_length=200, pattern=f.OWN_CAUSE)] | None = None
    made: f.Moment | None = None
    updated: f.Moment | None = None


class TestMinutesLine(f.Incoming, frozen=True):
    """The shop's own minutes of a listed test."""

    test: f.ListedId
    minutes: o.TestMinutes
    kind: Literal["test_minutes"] = "test_minutes"
    made: f.Moment | None = None
    updated: f.Moment | None = None


class OwnWordLine(f.Incoming, frozen=True):
    """A word that is right as the shop writes it, and what it stands for."""

    word: f.Word
    means: f.Word = ""
    kind: Literal["own_word"] = "own_word"
    made: f.Moment | None = None
    updated: f.Moment | None = None


Line = OwnTestLine | OwnCauseLine | TestMinutesLine | OwnWordLine
KINDS: dict[str, type[Line]] = {
    "own_test": OwnTestLine,
    "own_cause": OwnCauseLine,
    "test_minutes": TestMinutesLine,
    "own_word": OwnWordLine,
}
BESIDE = ("kind", "id", "made", "updated")


class Kind(Struct):
    """The part of a line that says what it is."""

    kind: str = "case"


def entry_of(line: bytes, now: datetime) -> OwnEntry | None:
    """The entry a line holds, None for any other line, a broken one too. Raises BadValue."""
    try:
        kind = KINDS.get(decode(line, Kind).kind)
    except ServiceError:
        return None  # whoever reads the other lines says what is wrong with it
    if kind is None:
        return None
    sent = decode(line, kind)
    made = sent.made or now
    return OwnEntry(_value(sent), made, sent.updated or made)


def _value(sent: Line) -> OwnValue:
    if isinstance(sent, OwnWordLine):
        return OwnWord(phrase_key(sent.word), means=sent.means)
    if isinstance(sent, TestMinutesLine):
        return OwnMinutes(sent.test, sent.minutes)
    told = {name: value for name, value in structs.asdict(sent).items() if name not in BESIDE}
    if isinstance(sent, OwnTestLine):
        return OwnTest(id=sent.id or test_id(sent.title), **told)
    return OwnCause(id=sent.id or own_cause_id(sent.title, field="title"), **told)


def fields_of(entry: OwnEntry) -> dict[str, Any]:
    """An entry as a line of the file."""
    times = {"made": entry.made, "updated": entry.updated}
    value = entry.value
    if isinstance(value, OwnMinutes):
        return {"kind": "test_minutes", "test": value.id, "minutes": value.minutes} | times
    if isinstance(value, OwnWord):
        return {"kind": "own_word", "word": value.id, "means": value.means} | times
    kind = "own_test" if isinstance(value, OwnTest) else "own_cause"
    return {"kind": kind} | asdict(value) | times
