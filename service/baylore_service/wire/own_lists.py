"""What a shop adds to the lists, and its tuning, as they travel."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated

from msgspec import UNSET, Meta, UnsetType

from baylore_kb.trade.own import OwnCause, OwnTest
from baylore_service.store.records.own import TuningTrial
from baylore_service.wire import fields as f
from baylore_service.wire.patch import given_fields

Says = Annotated[str, Meta(min_length=1, max_length=200, pattern=f.LINE)]
TestMinutes = Annotated[float, Meta(ge=1, le=480)]
RepairMinutes = Annotated[float, Meta(ge=1, le=6000)]
Steps = Annotated[tuple[f.ShortText, ...], Meta(max_length=12)]
Tools = Annotated[tuple[f.Word, ...], Meta(max_length=12)]
CauseIds = Annotated[tuple[f.CauseId, ...], Meta(min_length=1, max_length=60)]
Ids = Annotated[tuple[f.ListedId, ...], Meta(max_length=60)]
SomeIds = Annotated[tuple[f.ListedId, ...], Meta(min_length=1, max_length=60)]


class NewOwnTest(f.Incoming, frozen=True):
    """A test of the shop's own: it finds what `points_at` says, or does not."""

    title: Says
    system: f.ListedId
    minutes: TestMinutes
    points_at: CauseIds
    steps: Steps = ()
    skill: f.Skill = 1
    tools: Tools = ()
    for_symptoms: Ids = ()
    note: f.ShortText = ""


class OwnTestPatch(f.Incoming, frozen=True):
    """Changes to an own test; of a listed one only the minutes, null for those listed."""

    title: Says | UnsetType = UNSET
    system: f.ListedId | UnsetType = UNSET
    minutes: TestMinutes | None | UnsetType = UNSET
    points_at: CauseIds | UnsetType = UNSET
    steps: Steps | UnsetType = UNSET
    skill: f.Skill | UnsetType = UNSET
    tools: Tools | UnsetType = UNSET
    for_symptoms: Ids | UnsetType = UNSET
    note: f.ShortText | UnsetType = UNSET


class NewOwnCause(f.Incoming, frozen=True):
    """A cause of the shop's own; without a listed component it has one of its own."""

    title: Says
    system: f.ListedId
    symptoms: SomeIds
    minutes: RepairMinutes = 60.0
    component: f.ListedId | None = None
    fix: f.ShortText = ""
    confirm_test: f.ListedId | None = None
    only_if: Ids = ()


class OwnCausePatch(f.Incoming, frozen=True):
    """Changes to an own cause; what is left out stays."""

    title: Says | UnsetType = UNSET
    system: f.ListedId | UnsetType = UNSET
    symptoms: SomeIds | UnsetType = UNSET
    minutes: RepairMinutes | UnsetType = UNSET
    component: f.ListedId | None | UnsetType = UNSET
    fix: f.ShortText | UnsetType = UNSET
    confirm_test: f.ListedId | None | UnsetType = UNSET
    only_if: Ids | UnsetType = UNSET


class Tuning(f.Outgoing, frozen=True):
    """The last trial of the shop's own tuning; before the first, no version and no cases.

    `cases` were closed then, `asked` of them held out; losses are theirs, a smaller one is better. What was
    not adopted leaves the shipped tuning in use.
    """

    version: int | None
    when: datetime | None
    revision: int | None
    cases: int
    asked: int
    shipped_loss: float | None
    tuned_loss: float | None
    adopted: bool


def own_test(sent: NewOwnTest) -> OwnTest:
    """A test to add; its id follows from the title."""
    return OwnTest(id="", **given_fields(sent))


def own_cause(sent: NewOwnCause) -> OwnCause:
    """A cause to add; its id follows from the title."""
    return OwnCause(id="", **given_fields(sent))


def tuning(last: TuningTrial | None) -> Tuning:
    """The last trial as it is answered."""
    if last is None:
        return Tuning(None, None, None, 0, 0, None, None, adopted=False)
    return Tuning(
        version=last.version,
        when=last.at,
        revision=last.revision,
        cases=last.closed,
        asked=last.asked,
        shipped_loss=last.shipped_loss,
        tuned_loss=last.tuned_loss,
        adopted=last.adopted,
    )
