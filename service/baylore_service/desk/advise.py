"""From a complaint to advice; nothing is written."""

from __future__ import annotations

from collections.abc import Iterable

from baylore_kb.values import Advice, Complaint, Judged, Reading
from baylore_service.desk.house import House
from baylore_service.store.records import Actor


def advise(house: House, actor: Actor, complaint: Complaint, *, limit: int = 10) -> Advice:
    """What it turned out to be before and what to do next. The skill is the actor's, never above it."""
    raise NotImplementedError


def advise_case(house: House, actor: Actor, case_id: str, *, limit: int = 10) -> Advice:
    """The advice for a kept case, without itself. Raises NotFound."""
    raise NotImplementedError


def judge(house: House, actor: Actor, readings: Iterable[Reading]) -> tuple[Judged, ...]:
    """Each reading with what was to be expected and the verdict, in order."""
    raise NotImplementedError
