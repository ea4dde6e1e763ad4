"""The made-up cases of each shop, and the questions asked of the large one.

No case is another with a new number: each has a note of its own words (`corpus.py`), its own car, mileage and
days. The large shop's cases come first; the small shops that share the database are made from other seeds, so
that their words are others too.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import cache

import numpy as np
from tests.bench.corpus import RUN, Corpus, Question

from baylore_kb.trade import load
from baylore_kb.values import Case, Complaint, Measure, Vehicle

SEED, LARGE = 7, "large"
START, DAYS, KM_A_YEAR = datetime(2016, 1, 1, tzinfo=UTC), 3650, 14_000
# Questions are made of notes among so many of the first.
ASKED_OF = 20_000


@dataclass(frozen=True, slots=True)
class Shop:
    """A shop with so many cases of one seed."""

    id: str
    seed: int
    cases: int

    @property
    def runs(self) -> int:
        """Runs of notes it takes to make them."""
        return -(-self.cases // RUN)


def shops(cases: int, *, others: int, each: int) -> list[Shop]:
    """The large shop and the small ones beside it."""
    small = [Shop(f"small-{n}", SEED + 100 + n, each) for n in range(others)]
    return [Shop(LARGE, SEED, cases), *small]


def made(shop: Shop, run: int) -> Iterator[Case]:
    """The cases of one run of a shop's notes."""
    chance, causes = np.random.default_rng([shop.seed, run, 1]), list(load().causes)
    for number, note in _corpus(shop.seed).run(run, count=shop.cases):
        year, make, model, *words = note.split()
        opened = START + timedelta(minutes=int(chance.integers(DAYS * 24 * 60)))
        driven = max(opened.year - int(year), 0.2) * KM_A_YEAR * float(chance.lognormal(0.0, 0.4))
        car = Vehicle(int(year), make, model, odometer=Measure(float(round(driven)), "km"))
        yield Case(
            f"{shop.id}-{number:07d}",
            Complaint(" ".join(words), car),
            opened=opened,
            closed=opened + timedelta(minutes=int(chance.integers(30, 2000))),
            state="closed",
            cause=causes[int(chance.integers(len(causes)))],
            verified=bool(chance.random() < 0.8),
        )


@cache
def _corpus(seed: int) -> Corpus:
    return Corpus(seed)


def questions(cases: int, count: int) -> Sequence[Question]:
    """Questions about cases of the large shop, with what slips they have."""
    corpus = _corpus(SEED)
    return corpus.questions(list(corpus.notes(min(cases, ASKED_OF))), count)
