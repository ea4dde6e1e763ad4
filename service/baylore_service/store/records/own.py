"""What a shop keeps of its own beside the lists, and what its cases taught the engine."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from baylore_kb.trade.own import OwnCause, OwnTest

EntryKind = Literal["test", "cause", "minutes", "word"]


@dataclass(frozen=True, slots=True)
class OwnMinutes:
    """The shop's own minutes of a listed test."""

    id: str
    minutes: float


@dataclass(frozen=True, slots=True)
class OwnWord:
    """A word or phrase that is right as the shop writes it, and who said so (a member's id, "" not known).

    `means` is the plain term it stands for, "" for none.
    """

    id: str
    by: str = ""
    means: str = ""


OwnValue = OwnTest | OwnCause | OwnMinutes | OwnWord


@dataclass(frozen=True, slots=True)
class OwnEntry:
    """An entry of the shop's own with its times."""

    value: OwnValue
    made: datetime
    updated: datetime

    @property
    def kind(self) -> EntryKind:
        """Which list it is for."""
        return kind_of(self.value)


def kind_of(value: OwnValue) -> EntryKind:
    """Which list an entry is for."""
    if isinstance(value, OwnTest):
        return "test"
    if isinstance(value, OwnWord):
        return "word"
    return "cause" if isinstance(value, OwnCause) else "minutes"


@dataclass(frozen=True, slots=True)
class TuningTrial:
    """What a trial of the shop's own tuning found; losses are of held-out cases, None without enough.

    `revision` is the change it rests on, `closed` the closed cases then, `asked` those held out,
    `document` the tuning as JSON.
    """

    version: int
    at: datetime
    revision: int
    closed: int
    asked: int
    shipped_loss: float | None
    tuned_loss: float | None
    adopted: bool
    document: str
