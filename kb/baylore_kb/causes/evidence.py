"""What tests and readings say about the causes, as log-chances with a name each."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from baylore_kb.causes.beliefs import NOT_MENDED_BY_A_PART, Bools, Floats
from baylore_kb.causes.columns import Columns
from baylore_kb.causes.readings_said import Said
from baylore_kb.readings import quantity_named
from baylore_kb.tally import Tally, later_tests
from baylore_kb.trade.model import Trade
from baylore_kb.values import Complaint, Judged, Objected, TestDone

__all__ = [
    "NOT_MENDED_BY_A_PART",
    "PRESENT_WHEN_AWAY",
    "PRESENT_WHEN_COMES_AND_GOES",
    "REPRODUCES",
    "Evidence",
    "as_read",
    "of_readings",
    "of_tests",
    "together",
]

PRESENT_WHEN_AWAY = 0.05
# Of outcomes that mislead, how often the member believes to see the bad part; common practice, no source.
WRONG_PICK = 0.15
OWN_SHOWS, OWN_MISLEADS, PARTS_SHOWN = 0.85, 0.05, 4
PRESENT_WHEN_COMES_AND_GOES = 0.25
# This test asks whether the fault is there: its own outcome needs no fault present.
REPRODUCES, NOT_SEEN = "verify_complaint", "not_seen"


@dataclass(frozen=True, slots=True)
class Evidence:
    """One result: `log` (N) is log P(result | cause), untempered; `label` says it in words.

    `test` and `outcome` are empty for what is no test; `quantity` names the reading that showed the outcome,
    `objected` is the objection where it is one.
    """

    label: str
    log: Floats
    test: str = ""
    outcome: str = ""
    quantity: str = ""
    objected: Objected | None = None


def often_away(complaint: Complaint) -> bool:
    """Whether the fault may be away while testing: it comes and goes or was not seen when looked for."""
    tried = [done.outcome for done in complaint.tests if done.test == REPRODUCES]
    if tried and tried[-1] != NOT_SEEN:
        return False
    return complaint.comes_and_goes or bool(tried)


def presence(done: TestDone, comes_and_goes: bool) -> float:
    """Chance that the fault was there while testing."""
    if done.test == REPRODUCES:
        return 1.0
    if not done.fault_present:
        return PRESENT_WHEN_AWAY
    return PRESENT_WHEN_COMES_AND_GOES if comes_and_goes else 1.0


def shown_log(done: TestDone, columns: Columns, tally: Tally) -> Floats:
    """(N) log-chance that the test shows its part, as picked by the member, under each cause.

    Under another cause it takes an outcome that misleads and a wrong pick among the parts the test can
    show. Of a test no list knows, the chances are those of an own test.
    """
    part = columns.at[done.part or ""]
    if columns.beliefs.knows(done.test, done.outcome):
        row = columns.outcome(done.test, done.outcome, tally)
        parts = int(columns.beliefs.named[columns.beliefs.test_at[done.test]].sum())
    else:
        row, parts = np.where(np.arange(columns.count) == part, OWN_SHOWS, OWN_MISLEADS), PARTS_SHOWN
    picked = row * WRONG_PICK / max(parts, 2)
    picked[part] = row[part]
    return np.asarray(np.log(picked))


def of_tests(
    tests: Iterable[TestDone], columns: Columns, *, tally: Tally, comes_and_goes: bool = False
) -> list[Evidence]:
    """What each listed test says, the later of repeats only; a test or outcome not listed says nothing."""
    done = [test for test in later_tests(tests) if columns.beliefs.knows(test.test, test.outcome)]
    return [_heard(test, columns, tally=tally, comes_and_goes=comes_and_goes) for test in done]


def of_readings(
    said: Iterable[Said], columns: Columns, *, tally: Tally, comes_and_goes: bool = False
) -> list[Evidence]:
    """What readings say that were written down without a test, each named as a reading."""
    return [
        _heard(each.test, columns, tally=tally, comes_and_goes=comes_and_goes, reading=each.judged)
        for each in said
    ]


def _heard(
    done: TestDone,
    columns: Columns,
    *,
    tally: Tally,
    comes_and_goes: bool,
    reading: Judged | None = None,
) -> Evidence:
    trade = columns.beliefs.trade
    means = next(known.means for known in trade.tests[done.test].outcomes if known.id == done.outcome)
    row = columns.outcome(done.test, done.outcome, tally)
    share = presence(done, comes_and_goes)
    title = trade.tests[done.test].title if reading is None else as_read(reading, trade)
    return Evidence(
        label=f"{title}: {means}",
        log=np.log(share * row + (1.0 - share) * row[-1]),
        test=done.test,
        outcome=done.outcome,
        quantity=reading.reading.quantity if reading else "",
    )


def as_read(judged: Judged, trade: Trade) -> str:
    """A reading in words: the quantity's title, the value and unit as typed."""
    reading = judged.reading
    return f"{quantity_named(reading.quantity, trade).title} {reading.value:g} {reading.unit}"


def together(results: list[Evidence], columns: Columns) -> Bools:
    """(T, T) which results look at one circuit and so say less than apart; what is no test stands alone."""
    found = np.eye(len(results), dtype=bool)
    for one, first in enumerate(results):
        for other, second in enumerate(results[:one]):
            if first.test and second.test:
                alike = columns.beliefs.same_circuit(first.test, second.test)
                found[one, other] = found[other, one] = alike
    return found
