"""Invented shops whose failures are known: even ones, and ones with defects that begin in a known month."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime

import numpy as np

from baylore_kb.alerts import rising, signals
from baylore_kb.recurrence import Book
from baylore_kb.trade import load
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case, Complaint, Measure, Vehicle

START_YEAR = 2018
QUIET = 6
BANDS = (40_000.0, 120_000.0, 200_000.0, 280_000.0)


@dataclass(frozen=True)
class Plan:
    """A shop: cars and failures watched, cases a month, and defects of `ratio` from month `onset` on.

    `spread` is the strength of the natural differences between models that are no defects (0 for none).
    """

    models: int = 30
    systems: int = 10
    monthly: float = 60.0
    months: int = 72
    defects: int = 0
    ratio: float = 4.0
    onset: int = 24
    spread: float = 0.0


@dataclass(frozen=True)
class Told:
    """What became of a shop's defects, and how many alerts were false, over how many quarters."""

    defects: int
    found: int
    waits: tuple[int, ...]
    false: int
    quarters: float


class Shop:
    """The cases of a planned shop, month by month."""

    def __init__(self, plan: Plan, seed: int) -> None:
        self.plan, self.trade = plan, load()
        self._luck = np.random.default_rng(seed)
        self.systems = sorted(self.trade.systems)[: plan.systems]
        self.rates = self._rates()
        self.defects = self._planted()
        self.causes = [_cause_of(self.trade, system) for system in self.systems]

    def _rates(self) -> np.ndarray:
        """Cases a month by model, system and odometer band; some models are older, some systems wear."""
        luck, plan = self._luck, self.plan
        models, systems = luck.gamma(1.5, 1.0, plan.models), luck.gamma(1.5, 1.0, plan.systems)
        ages = luck.dirichlet([1.5] * len(BANDS), plan.models)
        wear = np.exp(np.outer(luck.normal(0.0, 0.3, plan.systems), np.arange(len(BANDS)) - 1.5))
        rates = models[:, None, None] * ages[:, None, :] * systems[None, :, None] * wear[None]
        if plan.spread:
            rates = rates * luck.gamma(1 / plan.spread, plan.spread, rates.shape[:2])[:, :, None]
        return np.asarray(rates / rates.sum() * plan.monthly)

    def _planted(self) -> tuple[tuple[int, int], ...]:
        """Pairs common enough to show their eighth case in time."""
        by_pair = self.rates.sum(axis=2) * self.plan.ratio * (self.plan.months - self.plan.onset)
        able = [(int(m), int(s)) for m, s in zip(*np.nonzero(by_pair > 14.0), strict=True)]
        picked = self._luck.permutation(len(able))[: self.plan.defects]
        return tuple(able[at] for at in picked)

    def month(self, at: int) -> Iterator[tuple[int, int, Case]]:
        """The cases of a month with their model and system."""
        rates = self.rates.copy()
        for model, system in self.defects if at >= self.plan.onset else ():
            rates[model, system] *= self.plan.ratio
        counts = self._luck.poisson(rates)
        for n, (model, system, band) in enumerate(_each(counts)):
            yield model, system, self._case(f"m{at}-{n}", at, model, system=system, band=band)

    def _case(self, id: str, at: int, model: int, *, system: int, band: int) -> Case:
        vehicle = Vehicle(make="Tarrow", model=f"M{model}", odometer=Measure(BANDS[band], "km"))
        when = datetime(START_YEAR + at // 12, at % 12 + 1, 15, tzinfo=UTC)
        return Case(id, Complaint("made up", vehicle), state="closed", cause=self.causes[system], opened=when)


def _each(counts: np.ndarray) -> Iterator[tuple[int, int, int]]:
    for at in zip(*np.nonzero(counts), strict=True):
        place = int(at[0]), int(at[1]), int(at[2])
        for _ in range(int(counts[place])):
            yield place


def _cause_of(trade: Trade, system: str) -> str:
    return next((id for id, cause in trade.causes.items() if cause.system == system), f"own.{system}")


def told(plan: Plan, seed: int) -> Told:
    """Run a shop through its months, looking at each month's end as the service does."""
    shop = Shop(plan, seed)
    book = Book(("model", "system"), shop.trade)
    heard: dict[tuple[str, str], list[int]] = {}
    counts = np.zeros((plan.months, *shop.rates.shape[:2]), dtype=int)
    last: dict[tuple[str, str], int] = {}
    level: dict[tuple[str, str], int] = {}
    for at in range(plan.months):
        for model, system, case in shop.month(at):
            counts[at, model, system] += 1
            book.put(case)
        if at < 12:
            continue
        alerts = [*signals(book, START_YEAR * 12 + at)]
        alerts += rising(book, START_YEAR * 12 + at, besides=[one.subject for one in alerts])
        for pair, cases in {(one.key["model"], one.key["system"]): one.level for one in alerts}.items():
            # What was told of within half a year is the same alert; later it comes back if it grew.
            before = level.get(pair, 0)
            if at - last.get(pair, -QUIET) >= QUIET and cases >= max(1.5 * before, before + 2):
                heard.setdefault(pair, []).append(at)
                level[pair] = cases
            last[pair] = at
    return _judged(shop, heard, counts)


def _judged(shop: Shop, heard: dict[tuple[str, str], list[int]], counts: np.ndarray) -> Told:
    names = {(f"Tarrow M{m}", shop.systems[s]): (m, s) for m, s in shop.defects}
    false = sum(len(months) for pair, months in heard.items() if pair not in names)
    waits = [_wait(shop, counts, heard.get(pair, []), at) for pair, at in names.items()]
    able = [wait for wait in waits if wait is not None]
    return Told(
        len(able),
        sum(wait >= 0 for wait in able),
        tuple(wait for wait in able if wait >= 0),
        false,
        (shop.plan.months - 12) / 3,
    )


def _wait(shop: Shop, counts: np.ndarray, months: list[int], at: tuple[int, int]) -> int | None:
    """Months from onset to the alert, -1 if it came later than three months after the eighth case.

    None where the eighth case did not come in time to be judged.
    """
    onset = shop.plan.onset
    seen = np.cumsum(counts[onset:, at[0], at[1]])
    eighth = int(np.searchsorted(seen, 8))
    if eighth + 3 >= len(seen):
        return None
    before = [month for month in months if month <= onset + eighth + 3]
    return max(0, before[0] - onset) if before else -1
