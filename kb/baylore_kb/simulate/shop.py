"""A shop in an invented town: cars that come in, and closed cases as such a shop would have kept them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

import numpy as np

from baylore_kb.causes.beliefs import Floats
from baylore_kb.causes.evidence import NOT_MENDED_BY_A_PART
from baylore_kb.simulate.nature import Nature
from baylore_kb.simulate.telling import complaint_text
from baylore_kb.simulate.world import PRICE, World
from baylore_kb.trade.model import Cause, Test
from baylore_kb.traits import traits_of
from baylore_kb.values import (
    Case,
    Complaint,
    Correction,
    Labour,
    PartTried,
    SourceKind,
    TestDone,
    Vehicle,
)  # fmt: skip

MAKES = ("Tarrow", "Ondrey", "Vostrel", "Harrand")
NAMES = (
    "Linnet",
    "Wren",
    "Calla",
    "Mistral",
    "Quill",
    "Ember",
    "Tern",
    "Sable",
    "Brook",
    "Fell",
    "Moor",
    "Reed",
)
BUILT = (
    ("1.2 petrol", "manual"), ("1.6 petrol", "manual"), ("2.0 petrol", "automatic"),
    ("1.6 diesel turbo", "manual"), ("2.0 diesel turbo", "automatic"), ("1.8 petrol hybrid", "automatic"),
)  # fmt: skip
# Each model has a few faults it is known for.
FAMOUS, FAMOUS_TIMES = 4, 8.0
SECOND_SYMPTOM, COMES_AND_GOES, THERE_TODAY = 0.2, 0.12, 0.5
MILD, MILD_STRENGTH = 0.15, 0.6
VERIFIED, MISTAKEN = 0.75, 0.04
SOURCES: tuple[SourceKind, ...] = ("maker", "aftermarket", "aftermarket", "used", "rebuilt")
FIRST_DAY = datetime(2023, 1, 9, 8, tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class Call:
    """A car that comes in: what is said of it, its true cause, and the symptom that is really there."""

    said: Complaint
    world: World
    symptom: str


class Town:
    """Cars and closed cases around one truth, drawn from one generator; the same seed gives the same."""

    def __init__(self, nature: Nature, seed: int) -> None:
        self.nature = nature
        self._chance = np.random.default_rng([seed, 1])
        self._famous = {name: self._times() for name in NAMES}
        self._fits: dict[Vehicle, Floats] = {}
        self._symptoms = tuple(nature.trade.symptoms)
        self._tests = tuple(nature.trade.tests.values())

    def call(self) -> Call:
        """The next car."""
        chance, model = self._chance, int(self._chance.integers(len(NAMES)))
        engine, gearbox = BUILT[model % len(BUILT)]
        vehicle = Vehicle(
            int(chance.integers(2003, 2016)), MAKES[model % len(MAKES)], NAMES[model], engine, gearbox
        )
        p = self.nature.rates * self._famous[NAMES[model]] * self._fitting(vehicle)
        place = int(chance.choice(len(p), p=p / p.sum()))
        symptoms = self._shown(place)
        goes = bool(chance.random() < COMES_AND_GOES)
        text = complaint_text(symptoms, self.nature.trade, chance)
        said = Complaint(text, vehicle, comes_and_goes=goes and bool(chance.random() < 0.8))
        there = not goes or bool(chance.random() < THERE_TODAY)
        strength = MILD_STRENGTH if chance.random() < MILD else 1.0
        return Call(said, World(self.nature, self.nature.causes[place], goes, there, strength), symptoms[0])

    def closed(self, count: int) -> list[Case]:
        """So many closed cases, some unverified, a few blamed on the wrong cause."""
        return [self._case(number) for number in range(count)]

    def _times(self) -> Floats:
        times = np.ones(len(self.nature.causes))
        times[self._chance.choice(len(times), FAMOUS, replace=False, p=self.nature.rates)] = FAMOUS_TIMES
        return times

    def _fitting(self, vehicle: Vehicle) -> Floats:
        kind = Vehicle(None, "", "", vehicle.engine, vehicle.transmission)
        if kind not in self._fits:
            present, absent = traits_of(kind)
            causes = self.nature.trade.causes
            needs = [causes[c].only_if if c in causes else () for c in self.nature.causes]
            # A trait nobody can tell from the engine is there on half the cars of a model.
            self._fits[kind] = np.array(
                [0.0 if absent & set(need) else 0.5 ** len(set(need) - present) for need in needs]
            )
        return self._fits[kind]

    def _shown(self, place: int) -> list[str]:
        chance = self._chance
        p = self.nature.shows[:, place]
        count = 2 if chance.random() < SECOND_SYMPTOM and (p > 0.02).sum() > 1 else 1
        return [self._symptoms[k] for k in chance.choice(len(p), count, replace=False, p=p)]

    def _case(self, number: int) -> Case:
        chance, call = self._chance, self.call()
        cause = call.world.cause
        if chance.random() < MISTAKEN:
            cause = self.nature.causes[int(chance.integers(len(self.nature.trade.causes)))]
        verified = bool(chance.random() < VERIFIED) and cause == call.world.cause
        known = self.nature.trade.causes.get(cause)
        tests = self._route(call)
        said = replace(call.said, tests=tests, parts=self._parts(call.world, cause))
        title = known.title if known else f"Strange fault {cause[-2:]}"
        day = FIRST_DAY + timedelta(hours=9 * number)
        return Case(
            f"past-{number:05d}",
            said,
            "closed",
            title=title,
            cause=cause,
            cause_title=title,
            cause_system=self.nature.systems[self.nature.at[cause]],
            correction=Correction(
                "mend", known.component if known else None, known.fix if known else "made good"
            ),
            confirmed_by=_confirming(known, tests),
            verified=verified,
            labour=Labour(repair_min=round(float(self.nature.labour[self.nature.at[cause]]))),
            opened=day,
            closed=day,
        )

    def _route(self, call: Call) -> tuple[TestDone, ...]:
        """A few tests of the symptom's circuit and, more often than not, the confirming one."""
        chance, known = self._chance, self.nature.trade.causes.get(call.world.cause)
        near = [test for test in self._tests if _near(test, call.symptom, self.nature)]
        chosen = [near[k] for k in chance.permutation(len(near))[: int(chance.integers(1, 4))]]
        if known and chance.random() < 0.8:
            confirm = self.nature.trade.tests[known.confirm_test]
            chosen = [test for test in chosen if test is not confirm] + [confirm]
        return tuple(self._done(call.world, test) for test in chosen)

    def _done(self, world: World, test: Test) -> TestDone:
        done = world.test(test.id, self._chance)
        minutes = round(world.minutes(None, test), 1) if self._chance.random() < 0.5 else None
        return TestDone(done.test, done.outcome, minutes, part=done.part)

    def _parts(self, world: World, cause: str) -> tuple[PartTried, ...]:
        """The parts it took: of one source until one works, then the maker's."""
        known = self.nature.trade.causes.get(cause)
        if known is None or known.mode in NOT_MENDED_BY_A_PART or not known.part_price:
            return ()
        price = float(self.nature.prices[self.nature.at[cause]])
        source = SOURCES[int(self._chance.integers(len(SOURCES)))]
        done = world.repair(world.cause, source, self._chance)
        first = PartTried(known.component, source, done.result, round(price * PRICE[source], 2))
        last = PartTried(known.component, "maker", "cured", round(price, 2))
        return (first,) if done.result == "cured" else (first, last)


def _confirming(known: Cause | None, tests: tuple[TestDone, ...]) -> str | None:
    """The confirming test of the cause, if it was done."""
    return known.confirm_test if known and any(done.test == known.confirm_test for done in tests) else None


def _near(test: Test, symptom: str, nature: Nature) -> bool:
    if test.for_symptoms:
        return symptom in test.for_symptoms
    return bool(set(nature.trade.symptoms[symptom].systems) & set(test.offer_for))
