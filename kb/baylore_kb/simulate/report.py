"""Many simulated jobs summed up: what each way of working costs, and how far its chances can be trusted."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

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
from baylore_kb.values import Advice, Terms

ADVICE = "by the advice"
OTHERS: Mapping[str, Callable[[Mind], Player]] = {
    "usual cause first, 3 times": UsualFirst,
    "usual cause first, 8 times": partial(UsualFirst, guesses=8),
    "likeliest cause first": LikeliestFirst,
    "a fixed list of tests": ByList,
    "most bits a minute": ByGain,
}

Said = tuple[float, int]


@dataclass(frozen=True, slots=True)
class Played:
    """The jobs of each way of working, in one order, and the right repair's minutes of each job.

    `first` says how sure the advice was of its first cause and whether that was right, over all answers;
    `at_once` the same before any test; `unlisted` the share kept for a cause not known here, and whether
    the truth was one, over all answers; `new` those two before any test.
    """

    closed: int
    rate_per_hour: float
    jobs: Mapping[str, Sequence[Job]]
    right: Sequence[float]
    first: Reliability
    at_once: Reliability
    unlisted: Reliability
    new: tuple[float, float]

    def mean(self, way: str) -> float:
        """Mean minutes to a working car, money as minutes of the shop's rate."""
        return float(np.mean([job.cost(self.rate_per_hour) for job in self.jobs[way]]))

    def text(self) -> str:
        """The table in plain lines."""
        return "\n".join(_lines(self))


def simulate(
    seed: int,
    *,
    closed: int = 300,
    jobs: int = 100,
    towns: int = 1,
    trade: Trade | None = None,
    tuned: bool = False,
) -> Played:
    """So many jobs in each of so many towns, a shop with so many closed cases in each, played in every way.

    One seed, one answer. `tuned` lets each shop tune itself on its cases first, as the service does.
    """
    listed = trade or load()
    played = [
        _in_town(seed * 1000 + town, closed=closed, jobs=jobs, trade=listed, tuned=tuned)
        for town in range(towns)
    ]
    return _summed_up([one for ones in played for one in ones], closed)


@dataclass(frozen=True, slots=True)
class _One:
    """One job in every way; `said` are the answers the advice gave, `known` whether its cause was known."""

    jobs: Mapping[str, Job]
    right: float
    said: Sequence[Advice]
    cause: str
    known: bool


def _in_town(seed: int, *, closed: int, jobs: int, trade: Trade, tuned: bool) -> list[_One]:
    town = Town(nature(trade, np.random.default_rng([seed, 0])), seed)
    snapshot = Snapshot.build(town.closed(closed), trade=trade)
    mind = Mind(snapshot, Terms(), tune(snapshot)) if tuned else Mind(snapshot)
    known = set(trade.causes) | {case.cause for case in snapshot.cases.values()}
    return [_every_way(town.call(), mind, (seed, number), known) for number in range(jobs)]


def _every_way(call: Call, mind: Mind, seed: tuple[int, int], known: set[str | None]) -> _One:
    advised = ByAdvice(mind)
    jobs = {ADVICE: play(call, advised, seed=seed)}
    jobs |= {name: play(call, way(mind), seed=seed) for name, way in OTHERS.items()}
    cause = call.world.cause
    return _One(jobs, call.world.right(mind.terms.rate_per_hour), advised.answers, cause, cause in known)


def _summed_up(ones: Sequence[_One], closed: int) -> Played:
    first = [[_first(answer, one.cause) for answer in one.said] for one in ones]
    kept = [[(answer.unlisted, int(not one.known)) for answer in one.said] for one in ones]
    return Played(
        closed=closed,
        rate_per_hour=Terms().rate_per_hour,
        jobs={name: [one.jobs[name] for one in ones] for name in (ADVICE, *OTHERS)},
        right=[one.right for one in ones],
        first=_trust([said for each in first for said in each]),
        at_once=_trust([each[0] for each in first]),
        unlisted=_trust([said for each in kept for said in each]),
        new=(float(np.mean([each[0][0] for each in kept])), float(np.mean([not one.known for one in ones]))),
    )


def _first(answer: Advice, cause: str) -> Said:
    return answer.causes[0].probability, int(answer.causes[0].cause == cause)


def _trust(pairs: Sequence[Said]) -> Reliability:
    return reliability([said for said, _ in pairs], [was for _, was in pairs])


def _lines(played: Played) -> Iterator[str]:
    yield (
        f"simulated jobs: {len(played.right)}, {played.closed} closed cases in the shop; "
        "minutes, money as minutes of the shop's rate"
    )
    yield f"the right repair alone: {np.mean(played.right):.0f} min"
    yield f"{'':28}{'mean':>6}{'p90':>6}{'work':>7}{'money':>7}{'tests':>7}{'wrong':>7}{'given away':>12}"
    for name, done in played.jobs.items():
        yield _row(name, done, played.rate_per_hour)
    yield from _trusted("first cause, every answer", played.first)
    yield from _trusted("first cause, before any test", played.at_once)
    yield from _trusted("not listed yet, every answer", played.unlisted)
    yield f"not listed yet, before any test: said {played.new[0]:.1%}, was {played.new[1]:.1%}"


def _row(name: str, done: Sequence[Job], rate_per_hour: float) -> str:
    cost = [job.cost(rate_per_hour) for job in done]
    return (
        f"{name:28}{np.mean(cost):6.0f}{np.percentile(cost, 90):6.0f}"
        f"{np.mean([job.minutes for job in done]):7.0f}{np.mean([job.money for job in done]):7.0f}"
        f"{np.mean([job.tests for job in done]):7.1f}{np.mean([job.wrong for job in done]):7.2f}"
        f"{np.mean([not job.here for job in done]):12.0%}"
    )


def _trusted(what: str, found: Reliability) -> Iterator[str]:
    yield f"{what}: calibration error {found.ece:.3f}"
    for row in found.bins:
        yield f"  said {row.mean_forecast:4.0%}  was {row.share_true:4.0%}  ({row.count})"
