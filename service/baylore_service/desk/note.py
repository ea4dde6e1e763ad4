"""The job note and the title, drafted from what was kept on the way; pure."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from baylore_kb.trade.model import LikelihoodRow, Trade
from baylore_kb.units import shown
from baylore_kb.values import Judged, Vehicle
from baylore_service.desk import tried
from baylore_service.desk.wording import flat, lower_first
from baylore_service.store import drafts as labels
from baylore_service.store.records import CaseFile, TestStep

SHORT_TITLE, MOST_TITLE, MOST_NOTE = 80, 200, 8000
# An outcome rules a group of causes out when it is rare under them and several times likelier under others.
RARE, TIMES = 0.1, 4.0
MOST_RULED_OUT = 6


def title(file: CaseFile) -> str:
    """What it was about in one line, with the cause or the reason once there is one."""
    short = _short(file.complaint_text)
    end = lower_first(file.cause_title) if file.cause_title else file.unresolved_reason
    return f"{short}: {end}"[:MOST_TITLE] if end else short


def text(file: CaseFile, trade: Trade, judged: Sequence[Judged]) -> str:
    """The job as a colleague would want to read it, a line per matter; what was not done is left out.

    `judged` are the case's readings, judged, in order.
    """
    return "\n".join(line for line in _lines(file, trade, judged) if line)[:MOST_NOTE]


def _lines(file: CaseFile, trade: Trade, judged: Sequence[Judged]) -> Iterator[str]:
    yield _line(labels.COMPLAINT, [flat(file.complaint_text), car(file.vehicle), " ".join(file.codes)])
    yield _line(labels.MEASURED, (reading(each, trade) for each in judged if each.reading.when == "before"))
    yield _line(labels.SHOWS, tried.shown(file))
    yield _line(labels.TESTED, (tested(step, trade) for step in file.tests))
    yield _line(labels.NOT_TESTED, (tried.skipped(step.skipped, trade) for step in file.skipped))
    yield _line(labels.RULED_OUT, ruled_out(file, trade))
    yield _line(labels.DOUBTED, (tried.objected(step.objection, trade) for step in file.objections))
    yield _line(labels.CAUSE, [flat(file.cause_title), _confirmed(file, trade)])
    yield _line(labels.DONE, [_done(file, trade), *tried.told(file, trade, "cured")])
    yield _line(labels.HALF_CURED, tried.told(file, trade, "partly"))
    yield _line(labels.IN_VAIN, tried.told(file, trade, "no change", "failed later"))
    yield _line(labels.AFTERWARDS, (reading(each, trade) for each in judged if each.reading.when == "after"))
    yield _line(labels.CHECKED, [flat(file.verification)])
    yield _line(labels.NOT_SOLVED, [file.unresolved_reason or ""])
    yield _line(labels.ALSO, [flat(file.note)])


def _line(label: str, parts: Iterable[str]) -> str:
    """`Label: one; another.`, empty where there is nothing to say."""
    said = "; ".join(part.strip().rstrip(".;") for part in parts if part and part.strip(" .;"))
    return f"{label}: {said}." if said else ""


def car(vehicle: Vehicle) -> str:
    """The vehicle in a few words, empty for an unknown one."""
    year = str(vehicle.year) if vehicle.year else ""
    words = [year, vehicle.make, vehicle.model, vehicle.engine, vehicle.transmission]
    if vehicle.odometer is not None:
        words.append(f"at {vehicle.odometer.value:,.0f} {vehicle.odometer.unit}")
    return flat(" ".join(word for word in words if word))


def reading(judged: Judged, trade: Trade) -> str:
    """What was measured where, and the verdict where one could be given."""
    value = judged.reading
    known = trade.quantities.get(value.quantity)
    name = known.title if known else value.quantity
    place = f" at {flat(value.point)}" if value.point.strip() else ""
    said = "" if judged.verdict == "unknown" else judged.verdict.replace("_", " ")
    verdict = f" ({said})" if said else ""
    return f"{lower_first(name)} {shown(value.value, value.unit)}{place}{verdict}"


def tested(step: TestStep, trade: Trade) -> str:
    """A test with what its outcome means and the words written beside it."""
    known = trade.tests.get(step.test.test)
    if known is None:
        return f"{step.test.test}: {step.test.outcome}"
    means = next((each.means for each in known.outcomes if each.id == step.test.outcome), step.test.outcome)
    away = "" if step.test.fault_present else ", fault away at the time"
    note = f" ({flat(step.test.note)})" if step.test.note.strip() else ""
    return f"{lower_first(known.title)}: {means}{away}{note}"


def ruled_out(file: CaseFile, trade: Trade) -> list[str]:
    """Groups of causes that the outcomes speak against; an ok while the fault was away rules out nothing."""
    last = {step.test.test: step.test for step in file.tests if step.test.fault_present}
    found: dict[str, None] = {}
    for done in last.values():
        rows = trade.tests[done.test].likelihood if done.test in trade.tests else ()
        against = (row.name for row in rows if _speaks_against(row, rows, done.outcome, file.cause))
        found.update(dict.fromkeys(against))
    return list(found)[:MOST_RULED_OUT]


def _speaks_against(
    row: LikelihoodRow, rows: Sequence[LikelihoodRow], outcome: str, cause: str | None
) -> bool:
    chance = row.p.get(outcome, 1.0)
    most = max(each.p.get(outcome, 0.0) for each in rows)
    return bool(row.causes) and cause not in row.causes and chance <= RARE and most >= TIMES * chance


def _confirmed(file: CaseFile, trade: Trade) -> str:
    known = trade.tests.get(file.confirmed_by or "")
    return f"confirmed by: {lower_first(known.title)}" if known else ""


def _done(file: CaseFile, trade: Trade) -> str:
    done = file.correction
    if done is None:
        return ""
    known = trade.components.get(done.component or "")
    act = f"{done.action} {lower_first(known.title) if known else ''}".strip()
    words = flat(done.text)
    return f"{act}, {words}" if act and words else act or words


def _short(text: str) -> str:
    """The first sentence, cut at a word."""
    said = re.split(r"(?<=[.!?])\s", flat(text))[0].rstrip(".! ") or flat(text)
    if len(said) <= SHORT_TITLE:
        return said
    head = said[:SHORT_TITLE]
    return head[: head.rfind(" ")].rstrip(" ,;:-") if " " in head[20:] else head
