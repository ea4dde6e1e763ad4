"""Checks of ids against the trade lists."""

from __future__ import annotations

import re
from collections.abc import Iterable

from rapidfuzz import process

from baylore_kb.plan.lacking import missing_tool
from baylore_kb.trade.model import Trade
from baylore_kb.trade.own.ids import OWN, is_own
from baylore_service.desk.checks.plain import TITLE, refuse, said, text

NEAR_ENOUGH = 60


def listed(value: str, ids: Iterable[str], *, field: str, what: str) -> str:
    """`value` when it is one of `ids`. Raises BadValue that offers the nearest."""
    known = set(ids)
    if value in known:
        return value
    near = [found[0] for found in process.extract(value, known, limit=3, score_cutoff=NEAR_ENOUGH)]
    remedy = f"did you mean {' or '.join(near)}?" if near else f"use an id of the {what} list"
    refuse(f"unknown {what} {value[:80]!r}", field=field, remedy=remedy)


def _listed_or_own(value: str, ids: Iterable[str], *, field: str, what: str) -> str:
    """`value` when it is one of `ids` or of a shop's own. Raises BadValue that offers the nearest."""
    if is_own(value):
        return text(value, most=TITLE, field=field)
    return listed(value, ids, field=field, what=what)


def cause(value: str, trade: Trade, *, field: str) -> str:
    """A listed cause or one of a shop's own."""
    return _listed_or_own(value, trade.causes, field=field, what="cause")


def system(value: str, trade: Trade, *, field: str) -> str:
    """A listed system or one of a shop's own, such as "own.drive_line"."""
    return _listed_or_own(value, trade.systems, field=field, what="system")


def test(value: str, trade: Trade, *, field: str) -> str:
    """A listed test or one of a shop's own."""
    return _listed_or_own(value, trade.tests, field=field, what="test")


def tool(value: str, trade: Trade, *, field: str) -> str:
    """A tool that some test needs. Raises BadValue that offers the nearest."""
    if any(missing_tool(each.tools, (value,)) for each in trade.tests.values()):
        return value
    tools = sorted({tool for each in trade.tests.values() for tool in each.tools})
    near = [found[0] for found in process.extract(value, tools, limit=3, score_cutoff=NEAR_ENOUGH)]
    remedy = f"did you mean {' or '.join(near)}?" if near else "name it as the tests name their tools"
    refuse(f"no test needs the tool {value[:80]!r}", field=field, remedy=remedy)


def places(values: tuple[str, ...], trade: Trade, *, most: int, field: str) -> tuple[str, ...]:
    """Systems and tests, each once, at least one. Raises BadValue that offers the nearest."""
    if not 1 <= len(values) <= most:
        refuse(f"{len(values)} entries cannot be", field=field, remedy=f"name 1 to {most} systems or tests")
    for at, value in enumerate(values):
        if value not in trade.systems:
            test_or_system(value, trade, field=f"{field}[{at}]")
    return tuple(dict.fromkeys(values))


def test_or_system(value: str, trade: Trade, *, field: str) -> str:
    """The id of a system, a listed test or a test of the shop's own."""
    return _listed_or_own(value, (*trade.systems, *trade.tests), field=field, what="system or test")


def own_cause_id(title: str, *, field: str = "own_cause.title") -> str:
    """The id of a cause in the shop's own words; the same words give the same id."""
    words = re.findall(r"\w+", said(title, most=TITLE, field=field).casefold())
    if not words:
        refuse(f"{title!r} has no word", field=field, remedy="name the part and what is wrong with it")
    return OWN + "_".join(words)[:120]


def outcome(test: str, value: str, trade: Trade, *, field: str) -> str:
    """An outcome that the test can show."""
    known = [each.id for each in trade.tests[test].outcomes]
    if value not in known:
        refuse(
            f"test {test!r} has no outcome {value[:80]!r}",
            field=field,
            remedy=f"use one of: {', '.join(known)}",
        )
    return value
