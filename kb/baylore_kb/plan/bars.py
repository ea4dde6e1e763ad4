"""What keeps a member of this shop from a test, and what would lift it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from baylore_kb.plan.lacking import missing_tool
from baylore_kb.trade.model import Test
from baylore_kb.values import Complaint, Skipped, Terms

BarKind = Literal["skill", "right", "tool", "skipped", "not now"]


@dataclass(frozen=True, slots=True)
class Bar:
    """Why a test is not done now; `note` is all of it in words, `kind` the first reason."""

    kind: BarKind
    note: str

    @property
    def lifted_here(self) -> bool:
        """Whether the member alone can lift it: the test was only put off."""
        return self.kind == "not now"

    @property
    def said(self) -> bool:
        """Whether the member said so, for a reason of the day."""
        return self.kind in ("skipped", "not now")


def bars(tests: Sequence[Test], complaint: Complaint, terms: Terms) -> dict[int, Bar]:
    """What keeps the asking member from each of these tests, by its place; those free to do left out."""
    if not (terms.rights_needed or terms.lacks or complaint.skipped):
        found = ((place, _skill(test, complaint)) for place, test in enumerate(tests))
        return {place: barred[0] for place, barred in found if barred}
    every = ((place, _bar(test, complaint, terms)) for place, test in enumerate(tests))
    return {place: barred for place, barred in every if barred is not None}


def _bar(test: Test, complaint: Complaint, terms: Terms) -> Bar | None:
    """Skill, then rights, then tools, then what the member said of it."""
    found = [*_skill(test, complaint), *_rights(test, complaint, terms), *_tools(test, terms)]
    found = found or [*_skips(test, complaint.skipped)]
    return Bar(found[0].kind, "; ".join(each.note for each in found)) if found else None


def _skill(test: Test, complaint: Complaint) -> list[Bar]:
    return [Bar("skill", f"needs skill {test.skill}")] if test.skill > complaint.skill else []


def _rights(test: Test, complaint: Complaint, terms: Terms) -> list[Bar]:
    needed = dict.fromkeys(right for what, right in terms.rights_needed if what in (test.system, test.id))
    held = {_plain(right) for right in complaint.rights} if needed else ()
    return [Bar("right", f"needs {_the(right)}") for right in needed if _plain(right) not in held]


def _tools(test: Test, terms: Terms) -> list[Bar]:
    tool = missing_tool(test.tools, terms.lacks)
    return [] if tool is None else [Bar("tool", f"the shop has no {tool}")]


def _skips(test: Test, skipped: tuple[Skipped, ...]) -> list[Bar]:
    """What the member said last of this test."""
    said = next((each for each in reversed(skipped) if each.test == test.id), None)
    if said is None:
        return []
    words = f"skipped: {said.because}" + (f", {said.note}" if said.note else "")
    return [Bar("not now" if said.because == "not now" else "skipped", words)]


def _plain(right: str) -> str:
    return " ".join(right.casefold().split())


def _the(right: str) -> str:
    first = right.strip().split(" ", maxsplit=1)[0].casefold()
    return right.strip() if first in ("a", "an", "the") else f"the {right.strip()}"
