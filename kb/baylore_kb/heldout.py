"""Closed cases asked of the others, as they stood before their cause was known."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from baylore_kb.features import Compared, compare
from baylore_kb.index import Snapshot
from baylore_kb.question import Question, understand
from baylore_kb.search import COMPARED
from baylore_kb.tally import Tally
from baylore_kb.values import Case, Complaint


@dataclass(frozen=True, slots=True)
class Asked:
    """A closed case asked of the others: the question, what past cases share with it, counts without it."""

    case: Case
    question: Question
    compared: Compared
    tally: Tally


def held_out(snapshot: Snapshot, most: int) -> list[Case]:
    """At most `most` closed cases with a cause, spread evenly over all of them, by id."""
    closed = [case for _, case in sorted(snapshot.cases.items()) if case.state == "closed" and case.cause]
    return closed[:: max(1, -(-len(closed) // most))] if most > 0 else []


def asked_of_others(snapshot: Snapshot, cases: list[Case]) -> Iterator[Asked]:
    """Each case without itself and the same car's other visits; every other one with its tests done."""
    for place, case in enumerate(cases):
        hidden = same_job(case, snapshot)
        question = understand(as_asked(case, with_tests=place % 2 == 0), snapshot, leave_out=hidden)
        found = snapshot.candidates(question, limit=COMPARED, leave_out=hidden)
        closed = [candidate for candidate in found if candidate.case.cause]
        tally = snapshot.tally.changed(
            removed=[snapshot.cases[id] for id in sorted(hidden & snapshot.cases.keys())]
        )
        yield Asked(case, question, compare(question, closed, snapshot), tally)


def as_asked(case: Case, *, with_tests: bool) -> Complaint:
    """The complaint as it stood before the cause was known: without what confirmed it and what was fitted.

    `with_tests` keeps the tests and readings that came before the confirming test.
    """
    bare = replace(
        case.complaint,
        tests=(),
        readings=(),
        parts=(),
        repairs=(),
        objections=(),
        skipped=(),
        minutes_spent=0.0,
    )
    if not with_tests:
        return bare
    before = tuple(reading for reading in case.complaint.readings if reading.when == "before")
    named = [test.test for test in case.complaint.tests]
    end = named.index(case.confirmed_by) if case.confirmed_by in named else len(named)
    return replace(bare, tests=case.complaint.tests[:end], readings=before)


def same_job(case: Case, snapshot: Snapshot) -> frozenset[str]:
    """The case, the visits it is linked to, and all visits of the same car where its VIN is known."""
    linked = {case.id, *case.returned_as, *([case.comeback_of] if case.comeback_of else [])}
    vin = case.complaint.vehicle.vin
    if vin:
        linked |= {other.id for other in snapshot.cases.values() if other.complaint.vehicle.vin == vin}
    return frozenset(linked)
