"""Alerts of a correction after which cars come back."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

from scipy.special import betaincinv

from baylore_kb.alerts.alert import Alert
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case

LEAST = 3
# The shop's rate weighs as much as so many cases of the correction.
STRENGTH = 8.0
Correction = tuple[str, str]


def returning(cases: Iterable[Case], trade: Trade) -> Iterator[Alert]:
    """Corrections of one cause whose share of comebacks is surely (95 %) above the shop's.

    A correction is its cause and its action; three comebacks at least.
    """
    held: defaultdict[Correction, list[Case]] = defaultdict(list)
    for case in cases:
        if case.state == "closed" and case.cause:
            held[case.cause, (case.correction.action if case.correction else "") or "repair"].append(case)
    total = sum(map(len, held.values()))
    rate = (sum(_returned(each) for each in held.values()) + 0.5) / (total + 1.0)
    for correction, of_it in sorted(held.items()):
        low = float(
            betaincinv(_returned(of_it) + STRENGTH * rate, _stayed(of_it) + STRENGTH * (1 - rate), 0.05)
        )
        if _returned(of_it) >= LEAST and low > rate:
            yield _alert(correction, of_it, low=low, rate=rate, trade=trade)


def _returned(cases: Sequence[Case]) -> int:
    return sum(bool(case.returned_as) for case in cases)


def _stayed(cases: Sequence[Case]) -> int:
    return len(cases) - _returned(cases)


def _alert(correction: Correction, cases: Sequence[Case], *, low: float, rate: float, trade: Trade) -> Alert:
    cause, action = correction
    words = trade.causes[cause].title if cause in trade.causes else cases[0].cause_title or cause
    back = [case.id for case in cases if case.returned_as]
    says = (
        f"{words}, corrected by {action}: {len(back)} of {len(cases)} came back "
        f"(all corrections here: {100 * rate:.0f} %)."
    )
    figures = {"came_back": float(len(back)), "done": float(len(cases)), "low": low, "usual": rate}
    return Alert(
        kind="comebacks",
        subject=f"comebacks/cause={cause}/action={action}",
        title=f"{words}: {action}",
        says=says,
        level=len(back),
        sure=True,
        figures=figures,
        key={"cause": cause, "action": action},
        cases=tuple(back[-30:]),
    )
