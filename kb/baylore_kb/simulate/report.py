"""Many simulated jobs summed up: what each way of working costs, and how far its chances can be trusted."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from baylore_kb.index import Snapshot
from baylore_kb.metrics import Reliability, reliability
from baylore_kb.simulate.nature import nature
from baylore_kb.simulate.play import Job, play
from baylore_kb.simulate.players import ByAdvice, ByGain, ByList, LikeliestFirst, Mind, Player, UsualFirst
from baylore_kb.simulate.shop import Call, Town
from baylore_kb.trade import load
from baylore_kb.trade.model import Trade
from baylore_kb.tuning import tune
from baylore_kb.values import Terms

WAYS: Mapping[str, Callable[[Mind], Player]] = {
    "by the advice": ByAdvice,
    "usual cause first": UsualFirst,
    "likeliest cause first": LikeliestFirst,
    "a fixed list of tests": ByList,
    "most bits a minute": ByGain,
}


@dataclass(frozen=True, slots=True)
class Played:
    """The jobs of each way of working, in one order, and the right repair's minutes of each job.

    `first` says how sure the advice was of its first cause and whether that was right, over all
    answers; `at_once` the same before any test; `unlisted` the share kept for a cause not known, and
    whether the truth was one.
    """

    closed: int
    rate_per_hour: float
    jobs: Mapping[str, Sequence[Job]]
    right: Sequence[float]
    first: Reliability
    at_once: Reliability
    unlisted: Reliability
    unlisted_said: float
    unlisted_was: float

    def mean(self, way: str) -> float:
        """Mean minutes to a working car, money as minutes of the shop's rate."""
        return float(np.mean([job.cost(self.rate_per_hour) for job in self.jobs[way]]))

    def text(self) -> str:
        """The table in plain lines."""
        return "\n".join(_lines(self))


def simulate(
    seed: int, *, closed: int = 300, jobs: int = 100, trade: Trade | None = None, tuned: bool = False
) -> Played:
    """Jobs of an invented shop with so many closed cases, played in every way; one seed, one answer.

    `tuned` lets the shop tune itself on its cases first, as the service does.
    """
    listed = trade or load()
    town = Town(nature(listed, np.random.default_rng([seed, 0])), seed)
    snapshot = Snapshot.build(town.closed(closed), trade=listed)
    mind = Mind(snapshot, Terms(), tune(snapshot)) if tuned else Mind(snapshot)
    calls = [town.call() for _ in range(jobs)]
    played = {
        name: [_played(call, way(mind), (seed, n)) for n, call in enumerate(calls)]
        for name, way in WAYS.items()
    }
    return _summed_up(closed, mind, calls, played)


@dataclass(frozen=True, slots=True)
class _One:
    job: Job
    player: Player


def _played(call: Call, player: Player, seed: tuple[int, int]) -> _One:
    return _One(play(call, player, seed=seed), player)


def _summed_up(
    closed: int, mind: Mind, calls: Sequence[Call], played: Mapping[str, Sequence[_One]]
) -> Played:
    rate = mind.terms.rate_per_hour
    sure: list[tuple[float, int]] = []
    at_once: list[tuple[float, int]] = []
    unknown: list[tuple[float, int]] = []
    known = set(mind.snapshot.trade.causes) | {case.cause for case in mind.snapshot.cases.values()}
    for call, one in zip(calls, played["by the advice"], strict=True):
        assert isinstance(one.player, ByAdvice)
        rows = [
            (answer.causes[0].probability, int(answer.causes[0].cause == call.world.cause))
            for answer in one.player.answers
        ]
        sure += rows
        at_once += rows[:1]
        new = int(call.world.cause not in known)
        unknown += [(answer.unlisted, new) for answer in one.player.answers]
    firsts = [
        one.player.answers[0].unlisted for one in played["by the advice"] if isinstance(one.player, ByAdvice)
    ]
    return Played(
        closed=closed,
        rate_per_hour=rate,
        jobs={name: [one.job for one in ones] for name, ones in played.items()},
        right=[call.world.right(rate) for call in calls],
        first=_trust(sure),
        at_once=_trust(at_once),
        unlisted=_trust(unknown),
        unlisted_said=float(np.mean(firsts)),
        unlisted_was=float(np.mean([call.world.cause not in known for call in calls])),
    )


def _trust(pairs: Sequence[tuple[float, int]]) -> Reliability:
    return reliability([said for said, _ in pairs], [was for _, was in pairs])


def _lines(played: Played) -> Iterator[str]:
    jobs = len(played.right)
    yield f"simulated jobs: {jobs}, after {played.closed} closed cases; minutes with money at the shop's rate"
    yield f"the right repair alone: {np.mean(played.right):.0f} min"
    yield f"{'':24}{'mean':>6}{'p90':>6}{'work':>7}{'money':>7}{'tests':>7}{'wrong':>7}{'given away':>12}"
    for name, done in played.jobs.items():
        cost = [job.cost(played.rate_per_hour) for job in done]
        yield (
            f"{name:24}{np.mean(cost):6.0f}{np.percentile(cost, 90):6.0f}"
            f"{np.mean([job.minutes for job in done]):7.0f}{np.mean([job.money for job in done]):7.0f}"
            f"{np.mean([job.tests for job in done]):7.1f}{np.mean([job.wrong for job in done]):7.2f}"
            f"{np.mean([not job.here for job in done]):12.0%}"
        )
    yield from _trusted("first cause, every answer", played.first)
    yield from _trusted("first cause, before any test", played.at_once)
    yield from _trusted("not listed yet", played.unlisted)
    yield f"not listed yet at the start: said {played.unlisted_said:.1%}, was {played.unlisted_was:.1%}"


def _trusted(what: str, found: Reliability) -> Iterator[str]:
    yield f"{what}: calibration error {found.ece:.3f}"
    for row in found.bins:
        yield f"  said {row.mean_forecast:4.0%}  was {row.share_true:4.0%}  ({row.count})"
