"""What stands behind an answer: what moved a cause, what does not fit, what was good before, the price."""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import Meta

from baylore_service.wire import fields as f

Chance = Annotated[float, Meta(ge=0, le=1)]
Factor = Annotated[float, Meta(gt=0)]
ConflictKind = Literal["outcome", "reading", "part", "two faults"]


class Moved(f.Outgoing, frozen=True):
    """A piece of evidence and its factor on the odds of a cause; above 1 is up."""

    by: str
    factor: Factor


class Then(f.Outgoing, frozen=True):
    """A cause and its probability after an outcome."""

    cause: str
    title: str
    probability: Chance


class Dropped(f.Outgoing, frozen=True):
    """A leading cause that fell, its chance before and after, and the result that did it."""

    cause: str
    title: str
    before: Chance
    after: Chance
    by: str


class Conflict(f.Outgoing, frozen=True):
    """Evidence that does not fit together and what to do about it; `steps` are what it rests on."""

    kind: ConflictKind
    text: str
    remedy: str
    steps: tuple[str, ...]


class RuledOut(f.Outgoing, frozen=True):
    """A test that cleared these causes on this model before: how often, and its middle minutes."""

    test: str
    title: str
    means: str
    times: int
    minutes: float | None
    causes: tuple[str, ...]


class Price(f.Outgoing, frozen=True):
    """What such jobs came to over some past cases, labour at today's rate."""

    cases: int
    low: float
    middle: float
    high: float
    currency: str


class CallAnswer(f.Outgoing, frozen=True):
    """An answer to tap: a listed symptom, a condition the fault shows in, or neither."""

    title: str
    symptom: str | None
    condition: str | None


class CallQuestion(f.Outgoing, frozen=True):
    """A question to ask before the car is seen, and why."""

    question: str
    why: str
    answers: tuple[CallAnswer, ...]
