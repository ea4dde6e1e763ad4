"""Cars to ask after and facts to ask for, as they travel."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Literal
from uuid import UUID

from msgspec import Meta, convert

from baylore_kb import office as kb
from baylore_service.desk.asking import Asked
from baylore_service.store.records.office import FactAsked
from baylore_service.wire import cases as wc
from baylore_service.wire import fields as f
from baylore_service.wire import show

Fact = Literal["correction", "verification", "diagnosis minutes", "model", "odometer"]


class FollowUp(f.Outgoing, frozen=True):
    """A job to ask after: the chance that its fault comes back, what raises it, and days since it closed.

    `tried` says that nobody was reached before.
    """

    case: str
    title: str
    model: str
    closed: datetime
    days: int
    risk: float
    why: tuple[str, ...]
    tried: bool


class FollowUps(f.Outgoing, frozen=True):
    """Whom to ask after, the riskiest first."""

    follow_ups: tuple[FollowUp, ...]


class Heard(f.Incoming, frozen=True):
    """What was heard of a car; `case` is the later visit it came back as, where that is known."""

    outcome: f.Followed
    case: UUID | None = None


class FactWanted(f.Outgoing, frozen=True):
    """A fact that is asked for, by whom and when; `unknown` once nobody knows any more."""

    fact: Fact
    at: datetime
    by: str | None
    unknown: bool


class FactsWanted(f.Outgoing, frozen=True):
    """All that is asked for of a case."""

    case: str
    facts: tuple[FactWanted, ...]


class AskedCase(f.Outgoing, frozen=True):
    """A case whose author is asked for facts."""

    case: wc.CaseBrief
    facts: tuple[FactWanted, ...]


class AskedCases(f.Outgoing, frozen=True):
    """What the asking member is asked for, the newest first."""

    asks: tuple[AskedCase, ...]


class FactsToAsk(f.Incoming, frozen=True):
    """Facts to ask the author for; all that the case lacks where none is named."""

    facts: Annotated[tuple[Fact, ...], Meta(max_length=5)] = ()


class NotKnown(f.Incoming, frozen=True):
    """A fact that nobody knows any more."""

    fact: Fact


def follow_ups(found: tuple[kb.FollowUp, ...]) -> FollowUps:
    """Whom to ask after."""
    return FollowUps(convert(found, tuple[FollowUp, ...], from_attributes=True))


def facts(case_id: str, asked: tuple[FactAsked, ...]) -> FactsWanted:
    """What is asked for of a case."""
    return FactsWanted(case_id, tuple(map(_fact, asked)))


def asked(found: tuple[Asked, ...]) -> AskedCases:
    """What a member is asked for."""
    return AskedCases(tuple(AskedCase(show.brief(one.file), tuple(map(_fact, one.facts))) for one in found))


def _fact(one: FactAsked) -> FactWanted:
    return convert(one, FactWanted, from_attributes=True)
