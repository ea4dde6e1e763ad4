"""What a shop adds to the lists: its own tests and causes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar


@dataclass(frozen=True, slots=True)
class OwnTest:
    """A test of the shop's own: it finds, or does not find, what `points_at` (cause ids) says.

    `minutes` >= 1 is set-up and doing together, `skill` 1 to 4. A `retired` one is no longer offered, only
    understood in the cases that did it.
    """

    __test__: ClassVar[bool] = False  # its name would have a test runner collect it

    id: str
    title: str
    system: str
    minutes: float
    points_at: tuple[str, ...]
    steps: tuple[str, ...] = ()
    skill: int = 1
    tools: tuple[str, ...] = ()
    for_symptoms: tuple[str, ...] = ()
    note: str = ""
    retired: bool = False


@dataclass(frozen=True, slots=True)
class OwnCause:
    """A cause of the shop's own; without a listed `component` it gets one of its own.

    `minutes` > 0 is the labour of the correction. `confirm_test` None leaves it to an own test that points
    at the cause.
    """

    id: str
    title: str
    system: str
    symptoms: tuple[str, ...]
    minutes: float = 60.0
    component: str | None = None
    fix: str = ""
    confirm_test: str | None = None
    only_if: tuple[str, ...] = ()
