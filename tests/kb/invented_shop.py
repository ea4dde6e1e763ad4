"""An invented shop: closed cases drawn from the trade lists, with its own habits of failure and of speech."""

from __future__ import annotations

import random
from collections.abc import Iterable
from functools import cache

from baylore_kb.index import Snapshot
from baylore_kb.trade import load
from baylore_kb.trade.model import Cause, Test, Trade
from baylore_kb.values import Case, Complaint, Correction, Labour, TestDone, Vehicle

MAKES = (("Tarrow", "Linnet"), ("Tarrow", "Corrie"), ("Ondrey", "Pike"), ("Ondrey", "Sorrel"))
MAKES += (("Kessby", "Marl"), ("Kessby", "Tuck"), ("Vostrel", "Quill"), ("Vostrel", "Harrow"))
FILLERS = ("", "customer says ", "since last week ", "on and off ", "worse when cold ", "third time now ")


@cache
def empty_shop() -> Snapshot:
    """A shop without cases on the shipped lists; made once, since the lists take most of the time."""
    return Snapshot.build([], trade=load())


def shop_of(cases: Iterable[Case]) -> Snapshot:
    """A shop with these cases."""
    return empty_shop().with_changes(put=cases, deleted=(), revision=1)


def shop(trade: Trade, size: int, *, seed: int = 7) -> list[Case]:
    """`size` closed cases; the same seed gives the same shop."""
    chance = random.Random(seed)
    habits = {id: cause.weight * chance.gammavariate(0.7, 1.4) for id, cause in trade.causes.items()}
    picked = chance.choices(list(habits), weights=list(habits.values()), k=size)
    return [invented_case(trade, cause, f"case-{n:04}", chance=chance) for n, cause in enumerate(picked)]


def invented_case(trade: Trade, cause: str, number: str, *, chance: random.Random) -> Case:
    """One closed case of the cause: a phrasing of its symptom, tests with outcomes as the lists expect."""
    known = trade.causes[cause]
    symptom = trade.symptoms[symptom_of(known, chance)]
    words = chance.choice(symptom.said_by_customer + symptom.written_by_tech)
    make, model = chance.choice(MAKES)
    tests = [done(trade.tests[known.confirm_test], cause, chance)]
    return Case(
        id=number,
        complaint=Complaint(
            chance.choice(FILLERS) + words,
            vehicle=Vehicle(year=chance.randint(2003, 2015), make=make, model=model),
            tests=tuple(tests),
        ),
        state="closed",
        title=known.title,
        cause=cause,
        cause_system=known.system,
        correction=Correction("replace", known.component, known.fix),
        verified=chance.random() < 0.8,
        labour=Labour(diagnosis_min=tests[0].minutes or 0.0, repair_min=30.0 * (known.labour_low_h + 1)),
    )


def symptom_of(cause: Cause, chance: random.Random) -> str:
    """A symptom of the cause, as often as its place in the list says."""
    places = [(1.0, 0.6, 0.4, 0.3, 0.2)[min(place, 4)] for place in range(len(cause.symptoms))]
    return chance.choices(cause.symptoms, weights=places)[0]


def done(test: Test, cause: str, chance: random.Random) -> TestDone:
    """The test with an outcome drawn from its chances under the cause."""
    row = next((row for row in test.likelihood if cause in row.causes), None)
    row = row or next(row for row in test.likelihood if not row.causes)
    outcome = chance.choices(list(row.p), weights=list(row.p.values()))[0]
    return TestDone(test.id, outcome, minutes=float(test.setup_min + test.do_min))
