"""Made-up closed cases out of the trade lists, seeded: for tests and for deriving shipped weights."""

from __future__ import annotations

import random
from datetime import UTC, datetime, timedelta

from baylore_kb.trade import Trade
from baylore_kb.values import Case, Complaint, Correction, Reading, TestDone, Vehicle

MODELS = [
    ("Tarrow", "Linnet"), ("Tarrow", "Wren"), ("Ondrey", "Calla"), ("Ondrey", "Mistral"),
    ("Vostrel", "Quill"), ("Vostrel", "Ember"), ("Harrand", "Tern"), ("Harrand", "Sable"),
]  # fmt: skip
ENGINES = ["1.2 petrol", "1.6 petrol", "2.0 petrol", "1.6 diesel", "2.0 diesel"]
CHATTER = [
    "since last week", "when driving", "customer says", "after rain", "had it looked at before",
    "please check", "on the way to work", "started yesterday", "sometimes", "always in the morning",
    "on long trips",
    "new battery last year", "happened twice now",
]  # fmt: skip
# What customers add that no list has: a shop learns which of it goes with which fault.
ODDITIES = """tow bar|heated screen|car wash|child seat|roof box|ferry|gravel road|spare wheel|radio volume
garage door|steep ramp|speed bump|jump leads|long queue|dog hair|frost|pollen|mountain pass|left bend
full tank|reverse out of drive|second gear|parked facing sun|valet|windscreen replaced|mouse nest|ski rack
key fob battery|coffee spilled|puddle""".replace("\n", "|").split("|")
PLACES = (1.0, 0.6, 0.4, 0.3, *[0.2] * 20)


def slip(rnd: random.Random, word: str) -> str:
    """The word with one letter left out, swapped or changed."""
    if len(word) < 4:
        return word
    at = rnd.randrange(1, len(word) - 1)
    kind = rnd.random()
    if kind < 0.4:
        return word[:at] + word[at + 1 :]
    if kind < 0.8:
        return word[:at] + word[at + 1] + word[at] + word[at + 2 :]
    return word[:at] + rnd.choice("abcdefghijklmnopqrstuvwxyz") + word[at + 1 :]


def told(rnd: random.Random, trade: Trade, symptom: str, *, slips: float = 0.08) -> str:
    """A symptom in somebody's words, with chatter and slips of the thumb."""
    listed = trade.symptoms[symptom]
    phrases = [*listed.said_by_customer, *listed.written_by_tech, listed.title]
    said = rnd.sample(phrases, k=min(len(phrases), rnd.choice((1, 1, 2))))
    parts = said + rnd.sample(CHATTER, k=rnd.choice((0, 1, 2)))
    rnd.shuffle(parts)
    words = ", ".join(parts).split()
    return " ".join(slip(rnd, word) if rnd.random() < slips else word for word in words)


class Maker:
    """Makes cases one after the other; the same seed makes the same ones."""

    def __init__(self, trade: Trade, *, seed: int = 1) -> None:
        self.trade = trade
        self.rnd = random.Random(seed)
        self.causes = list(trade.causes.values())
        self.habits = {model: self.rnd.sample(self.causes, k=12) for model in MODELS}
        self.oddities = {c.id: self.rnd.sample(ODDITIES, k=2) for c in self.causes}
        self.levels = {c.id: self.rnd.choice((-1.0, 0.0, 1.0)) for c in self.causes}
        self.codes = {c.id: f"P{self.rnd.randrange(0x0100, 0x0A00):04X}" for c in self.causes}

    def case(self, number: int) -> Case:
        """One closed case."""
        rnd = self.rnd
        make, model = rnd.choice(MODELS)
        usual = self.habits[make, model] if rnd.random() < 0.4 else self.causes
        cause = rnd.choices(usual, weights=[c.weight for c in usual])[0]
        symptom = rnd.choices(cause.symptoms, weights=PLACES[: len(cause.symptoms)])[0]
        opened = datetime(2025, 1, 6, 9, tzinfo=UTC) + timedelta(hours=7 * number)
        complaint = Complaint(
            self._said(cause.id, symptom),
            Vehicle(rnd.randrange(2003, 2018), make, model, rnd.choice(ENGINES)),
            codes=self._codes(cause.id),
            symptoms=(symptom,) if rnd.random() < 0.4 else (),
            tests=tuple(self._tests(cause.id, cause.confirm_test)),
            readings=tuple(self._readings(cause.id, cause.confirm_test)),
        )
        return Case(
            f"case-{number:05d}", complaint, "closed", cause=cause.id, cause_title=cause.title,
            title=cause.title,
            correction=Correction("replace", cause.component, cause.fix), confirmed_by=cause.confirm_test,
            verified=rnd.random() < 0.7, note=self._said(cause.id, symptom), opened=opened, closed=opened,
        )  # fmt: skip

    def cases(self, count: int) -> list[Case]:
        """So many closed cases."""
        return [self.case(number) for number in range(count)]

    def _said(self, cause: str, symptom: str) -> str:
        """The symptom as told, now and then with what goes with the cause in this shop, or with anything."""
        rnd = self.rnd
        extra = rnd.choice(self.oddities[cause]) if rnd.random() < 0.35 else rnd.choice(ODDITIES)
        said = told(rnd, self.trade, symptom)
        return f"{said}, {extra}" if rnd.random() < 0.6 else said

    def _codes(self, cause: str) -> tuple[str, ...]:
        chance = self.rnd.random()
        if chance < 0.25:
            return (self.codes[cause],)
        return (self.rnd.choice(list(self.codes.values())),) if chance < 0.3 else ()

    def _tests(self, cause: str, confirm: str) -> list[TestDone]:
        system = cause.split(".")[0]
        nearby = [
            test.id for test in self.trade.tests.values() if test.system == system and test.id != confirm
        ]
        chosen = [*self.rnd.sample(nearby, k=min(len(nearby), self.rnd.choice((0, 1, 2)))), confirm]
        return [TestDone(test, self._outcome(test, cause), minutes=5.0) for test in chosen]

    def _outcome(self, test: str, cause: str) -> str:
        rows = self.trade.tests[test].likelihood
        row = next((r for r in rows if cause in r.causes), rows[-1])
        return self.rnd.choices(list(row.p), weights=list(row.p.values()))[0]

    def _readings(self, cause: str, test: str) -> list[Reading]:
        quantity = self.trade.tests[test].quantity
        if quantity is None or self.rnd.random() < 0.5:
            return []
        listed = self.trade.quantities[quantity]
        low, high = listed.expected.low, listed.expected.high
        if not isinstance(low, float) or not isinstance(high, float):
            return []
        level = self.levels[cause] if self.rnd.random() < 0.8 else self.rnd.choice((-1.0, 0.0, 1.0))
        value = round((low + high) / 2 + (level + self.rnd.uniform(-0.4, 0.4)) * (high - low), 3)
        return [Reading(quantity, min(max(value, listed.hard_low), listed.hard_high), listed.unit)]
