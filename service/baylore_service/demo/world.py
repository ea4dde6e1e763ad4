"""The invented shop: who works there and which vehicles come in."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import cache
from random import Random
from typing import Any, Literal

from baylore_kb.trade.model import Cause
from baylore_kb.values import Measure, Vehicle
from baylore_service.demo.pages import page
from baylore_service.store.records import RightRule, Role

Style = Literal["terse", "dictated", "careful", "hurried"]
FIRST_DAY = datetime(2022, 12, 5, 8, tzinfo=UTC)
LAST_DAY = datetime(2025, 11, 14, 8, tzinfo=UTC)
KM_PER_MILE = 1.609344


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody of the shop: what they may test, the rights they hold and how they write."""

    name: str
    role: Role
    skill: int
    style: Style
    share: float
    rights: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Model:
    """An invented model; `lacks` are systems or components it is built without."""

    make: str
    model: str
    years: tuple[int, int]
    engines: tuple[str, ...]
    gearboxes: tuple[str, ...]
    traits: frozenset[str]
    lacks: tuple[str, ...]
    share: float

    @property
    def name(self) -> str:
        """Make and model."""
        return f"{self.make} {self.model}"


@dataclass(frozen=True, slots=True)
class Car:
    """One vehicle of the yard, with its distance on FIRST_DAY and per day since."""

    model: Model
    year: int
    engine: str
    gearbox: str
    km: float
    km_per_day: float
    in_miles: bool = False

    @property
    def traits(self) -> frozenset[str]:
        """All it is known to have."""
        return traits_of(self.model, self.gearbox)

    def can_have(self, cause: Cause) -> bool:
        """Whether that can go wrong on it."""
        lacking = any(f"{cause.id}.".startswith(f"{part}.") for part in self.model.lacks)
        return not lacking and frozenset(cause.only_if) <= self.traits

    def on(self, day: datetime, *, full: bool) -> Vehicle:
        """The vehicle as it is written down on a day; its traits only in a `full` description."""
        km = self.km + self.km_per_day * (day - FIRST_DAY) / timedelta(days=1)
        return Vehicle(
            year=self.year,
            make=self.model.make,
            model=self.model.model,
            engine=self.engine,
            transmission=self.gearbox,
            odometer=self._odometer(km),
            traits=self.traits if full else frozenset(),
        )

    def _odometer(self, km: float) -> Measure:
        """The distance as the dash shows it."""
        return Measure(round(km / KM_PER_MILE, -1), "mi") if self.in_miles else Measure(round(km, -1), "km")


@cache
def traits_of(model: Model, gearbox: str) -> frozenset[str]:
    """All that a model with a gearbox is known to have."""
    return model.traits | frozenset(page("world.yaml")["gearboxes"][gearbox])


@cache
def people() -> tuple[Person, ...]:
    """Everybody of the shop, the owner first."""
    rows = page("world.yaml")["members"]
    return tuple(Person(**row | {"rights": tuple(row.get("rights", ()))}) for row in rows)


def shop_facts() -> dict[str, Any]:
    """Name, currency, unit system, labour rate per hour and time zone of the shop."""
    return dict(page("world.yaml")["shop"])


def equipment() -> dict[str, Any]:
    """The tools the shop lacks, and the rights it asks for with the tests that need them."""
    found = page("world.yaml")["equipment"]
    rules = (RightRule(row["right"], tuple(row["needed_for"])) for row in found["rights"])
    return {"lacks": tuple(found["lacks"]), "rights": tuple(rules)}


@cache
def models() -> tuple[Model, ...]:
    """Every model of the yard."""
    return tuple(_model(row) for row in page("world.yaml")["models"])


def _model(row: dict[str, Any]) -> Model:
    first, last = row["years"]
    return Model(
        row["make"],
        row["model"],
        years=(first, last),
        engines=tuple(row["engines"]),
        gearboxes=tuple(row["gearboxes"]),
        traits=frozenset(row["traits"]),
        lacks=tuple(row.get("lacks", ())),
        share=row["share"],
    )


def some_car(model: Model, chance: Random, *, engine: str | None = None) -> Car:
    """A car of the model, as worn as its years."""
    year = chance.randint(*model.years)
    per_day = chance.uniform(18, 62)
    return Car(
        model,
        year,
        engine or chance.choice(model.engines),
        chance.choice(model.gearboxes),
        km=max(2000.0, (FIRST_DAY.year - year) * 365 * per_day * chance.uniform(0.7, 1.1)),
        km_per_day=per_day,
        in_miles=chance.random() < 0.04,
    )


def yard(chance: Random, size: int) -> tuple[Car, ...]:
    """So many cars, of the models in their shares."""
    known = models()
    picked = chance.choices(known, weights=[model.share for model in known], k=size)
    return tuple(some_car(model, chance) for model in picked)


def named(names: Iterable[str]) -> tuple[Model, ...]:
    """The models of these names ("Make Model")."""
    wanted = set(names)
    return tuple(model for model in models() if model.name in wanted)
