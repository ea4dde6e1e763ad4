"""What was tried, skipped and doubted on a case, in the words of its note."""

from __future__ import annotations

from collections.abc import Iterator

from baylore_kb.conditions import SHOWS_WHEN
from baylore_kb.trade.model import Trade
from baylore_kb.trade.own.ids import words_of
from baylore_kb.values import Objected, PartTried, RepairTried, Skipped
from baylore_service.desk.wording import flat, lower_first
from baylore_service.store.records import CaseFile

NOT_SAID = "what stayed wrong is not said"


def told(file: CaseFile, trade: Trade, *results: str) -> Iterator[str]:
    """Parts and repairs with one of these results; a part that cured is told by the correction."""
    if "cured" not in results:
        yield from (fitted(step.part, trade) for step in file.parts if step.part.result in results)
    yield from (mended(step.repair, trade) for step in file.repairs if step.repair.result in results)


def fitted(part: PartTried, trade: Trade) -> str:
    """A part with its source and what it did."""
    known = trade.components.get(part.component)
    name = lower_first(known.title) if known else part.component
    return f"{name} from {_source(part)}: {_result(str(part.result), part.note)}"


def mended(repair: RepairTried, trade: Trade) -> str:
    """A repair without a new part and what it did."""
    return f"repair of {cause_title(repair.cause, trade)}: {_result(repair.result, repair.note)}"


def skipped(skip: Skipped, trade: Trade) -> str:
    """A test that was not done, and why."""
    known = trade.tests.get(skip.test)
    name = lower_first(known.title) if known else words_of(skip.test)
    return f"{name}: {_with_note(skip.because, skip.note)}"


def objected(objection: Objected, trade: Trade) -> str:
    """A cause that a member held to be wrong, and why."""
    return f"{cause_title(objection.cause, trade)}: {_with_note(objection.because, objection.note)}"


def shown(file: CaseFile) -> Iterator[str]:
    """When the fault shows, in words."""
    if file.comes_and_goes:
        yield "comes and goes"
    yield from (SHOWS_WHEN.get(each, each).lower() for each in file.shows_when)


def cause_title(cause: str, trade: Trade) -> str:
    """A cause in words, one of the shop's own by the words of its id."""
    known = trade.causes.get(cause)
    return lower_first(known.title) if known else words_of(cause)


def _result(result: str, note: str) -> str:
    """What it did; of a half cure what stayed wrong belongs to it."""
    if result != "partly":
        return _with_note(result, note)
    return f"partly, {flat(note) or NOT_SAID}"


def _with_note(words: str, note: str) -> str:
    return f"{words} ({flat(note)})" if note.strip() else words


def _source(part: PartTried) -> str:
    price = f", {part.price:.2f}" if part.price else ""
    return f"{part.source}{price}"
