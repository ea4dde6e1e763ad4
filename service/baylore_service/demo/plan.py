"""Which jobs the demo shop had: the planted failures, the strange ones, the unsolved and the rest."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from random import Random
from typing import Literal

from baylore_kb.trade.model import Cause
from baylore_service.demo.job import Tools
from baylore_service.demo.pages import page
from baylore_service.demo.planted import FULL_SHOP, PLANTED, Planted
from baylore_service.demo.strange import Strange, strange_causes
from baylore_service.demo.world import FIRST_DAY, LAST_DAY, Car, Model, named, some_car, yard

Ending = Literal["closed", "open", "no fault found", "declined", "referred"]
UNRESOLVED: tuple[Ending, ...] = (
    "no fault found",
    "no fault found",
    "no fault found",
    "declined",
    "referred",
)
UNRESOLVED_SHARE, OPEN_SHARE, STRANGE_SHARE = 0.034, 0.016, 0.036
CARS_PER_CASE = 0.62
DAYS = (LAST_DAY - FIRST_DAY).days
SUMMER = range(5, 10)
# How much more a system is asked for in summer and in the rest of the year.
SEASONS = {"aircon": (2.2, 0.35), "charging": (0.7, 1.3), "starting": (0.7, 1.3), "lighting": (0.6, 1.3)}


@dataclass(frozen=True, slots=True)
class Slot:
    """A job to be made: which car, when, with what wrong, and how it ends."""

    car: Car
    opened: datetime
    cause: Cause
    ending: Ending = "closed"
    planted: Planted | None = None
    strange: Strange | None = None


class Plan:
    """Deals out jobs; the same chance deals the same ones."""

    def __init__(self, tools: Tools, chance: Random, count: int) -> None:
        self._tools, self._chance, self._count = tools, chance, count
        self._yard = yard(chance, max(12, round(count * CARS_PER_CASE)))
        self._strange = strange_causes()
        self._by_kind: dict[tuple[str, str], dict[str, list[Cause]]] = {}

    def special(self) -> Iterator[Slot]:
        """The planted, the strange, the unsolved and the open ones."""
        yield from self._planted()
        for at in range(round(self._count * STRANGE_SHARE)):
            yield self._strange_one(self._strange[at % len(self._strange)])
        for at in range(round(self._count * UNRESOLVED_SHARE)):
            yield self.ordinary(ending=UNRESOLVED[at % len(UNRESOLVED)])
        for _ in range(round(self._count * OPEN_SHARE)):
            last = LAST_DAY - timedelta(days=self._chance.uniform(0, 9))
            yield self.ordinary(ending="open", day=last)

    def ordinary(self, *, ending: Ending = "closed", day: datetime | None = None) -> Slot:
        """A car of the yard with something wrong that is common for the season."""
        opened = working_hour(day, self._chance) if day else self._some_day()
        car = self._chance.choice(self._yard)
        return Slot(car, opened, self._cause(car, opened), ending)

    def _planted(self) -> Iterator[Slot]:
        share = self._count / FULL_SHOP
        for each in PLANTED:
            for model, cause, times in each.counts():
                for _ in range(round(times * share)):
                    yield self._planted_one(each, named([model])[0], cause)

    def _planted_one(self, planted: Planted, model: Model, cause: str) -> Slot:
        opened = self._some_day()
        car = some_car(model, self._chance)
        target = self._chance.uniform(*planted.km)
        since = (opened - FIRST_DAY).days
        car = Car(
            car.model, car.year, car.engine, car.gearbox, target - since * car.km_per_day, car.km_per_day
        )
        return Slot(car, opened, self._tools.trade.causes[cause], planted=planted)

    def _strange_one(self, strange: Strange) -> Slot:
        able = [car for car in self._yard if strange.fits(car.traits, self._tools.trade)]
        return Slot(self._chance.choice(able), self._some_day(), strange.cause, strange=strange)

    def _cause(self, car: Car, day: datetime) -> Cause:
        by_system = self._possible(car)
        mix = page("world.yaml")["mix"]
        weights = [mix[system] * _season(system, day) for system in by_system]
        system = self._chance.choices(list(by_system), weights=weights)[0]
        theirs = by_system[system]
        return self._chance.choices(theirs, weights=[self._tools.truth.weight(each.id) for each in theirs])[0]

    def _possible(self, car: Car) -> dict[str, list[Cause]]:
        """What can go wrong on such a car, by system."""
        kind = (car.model.name, car.gearbox)
        if kind not in self._by_kind:
            found: dict[str, list[Cause]] = {}
            for cause in self._tools.trade.causes.values():
                if self._can_be(car, cause):
                    found.setdefault(cause.system, []).append(cause)
            self._by_kind[kind] = found
        return self._by_kind[kind]

    def _can_be(self, car: Car, cause: Cause) -> bool:
        test = self._tools.trade.tests[cause.confirm_test]
        return car.can_have(cause) and frozenset(test.only_if) <= car.traits

    def _some_day(self) -> datetime:
        day = FIRST_DAY + timedelta(days=self._chance.randrange(DAYS))
        return working_hour(day, self._chance)


def working_hour(day: datetime, chance: Random) -> datetime:
    """A time of that day when the shop is open; a Sunday moves to the Saturday before."""
    day = day - timedelta(days=1) if day.weekday() == 6 else day
    return day.replace(hour=8, minute=0, second=0, microsecond=0) + timedelta(
        minutes=chance.randrange(0, 500)
    )


def _season(system: str, day: datetime) -> float:
    summer, other = SEASONS.get(system, (1.0, 1.0))
    return summer if day.month in SUMMER else other
