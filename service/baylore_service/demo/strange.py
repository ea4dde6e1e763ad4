"""Jobs whose cause no list has, in the shop's own words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from random import Random
from typing import Any

from baylore_kb.trade.model import Cause, Test, Trade
from baylore_kb.values import Correction, TestDone
from baylore_service.demo.job import Tools, Visit, Work
from baylore_service.demo.pages import page
from baylore_service.desk.checks.known import own_cause_id


@dataclass(frozen=True, slots=True)
class Strange:
    """A cause of the shop's own, shaped like a listed one, and what people said of it."""

    cause: Cause
    says: tuple[str, ...]
    action: str
    outcome: str
    needs: frozenset[str]

    def fits(self, traits: frozenset[str], trade: Trade) -> bool:
        """Whether a car of these traits can have it and the test that shows it."""
        return self.needs | frozenset(trade.tests[self.cause.confirm_test].only_if) <= traits


def strange_causes() -> tuple[Strange, ...]:
    """All of them."""
    return tuple(_strange(row) for row in page("own.yaml"))


def _strange(row: dict[str, Any]) -> Strange:
    needs = frozenset(row.get("needs", ()))
    return Strange(_cause(row), tuple(row["says"]), row["action"], row["outcome"], needs)


def _cause(row: dict[str, Any]) -> Cause:
    return Cause(
        id=own_cause_id(row["title"]),
        title=row["title"],
        component=row["component"],
        mode="",
        system=row["system"],
        weight=1.0,
        confirm_test=row["test"],
        fix=row["done"],
        labour_low_h=0.3,
        labour_high_h=1.2,
        symptoms=tuple(row["symptoms"]),
        only_if=(),
        part_price=float(row["price"]),
    )


class StrangeWork(Work):
    """Work on a cause of the shop's own: found by looking, told in its own words."""

    def __init__(self, tools: Tools, visit: Visit, chance: Random, *, strange: Strange) -> None:
        super().__init__(tools, visit, chance)
        self._strange = strange

    def settled(self, test: Test, *, earlier: Test | None) -> Iterator[TestDone]:
        """The look that found it."""
        yield self.look.shown(test, self._strange.outcome, earlier=earlier)

    def own_words(self) -> tuple[str, ...]:
        """What people said of it."""
        return self._strange.says

    def codes(self) -> tuple[str, ...]:
        """It leaves none."""
        return ()

    def correction(self) -> Correction:
        """What was done."""
        return Correction(self._strange.action, self._strange.cause.component, self._strange.cause.fix)
