"""The planner's compiled steps, where there is a compiler and the problem is of the usual kind.

Each function gives None where the plain way must reckon it.
"""

from __future__ import annotations

import math

from baylore_kb.plan.problem import Floats, Problem

try:
    from baylore_kb.plan import quick, quick_ahead, quick_deeper, quick_ground
except ImportError:  # numba is optional
    quick = None  # type: ignore[assignment]

# More problems than several shops plan for at one time.
_MOST_KEPT = 16
_KEPT: dict[int, tuple[Problem, quick_ground.Ground | None]] = {}


def in_order(chances: Floats, problem: Problem) -> Floats | None:
    """(N,) minutes of the best repairs from each row of chances (N, C)."""
    on = _ground(problem)
    return None if on is None else quick.in_order(chances, on.repairs)


def after_each_test(problem: Problem) -> tuple[Floats, Floats] | None:
    """(T) minutes of the repairs after each test, and (T) bits of doubt left."""
    on = _ground(problem)
    return None if on is None else quick.alone(problem.p, on)


def cheapest_test(problem: Problem, most: float) -> float | None:
    """Minutes of the test that costs least by itself; infinite where none costs less than `most`."""
    on = _ground(problem)
    return None if on is None else quick_ahead.cheapest_test(problem.p, problem.place, most, on)


def look_ahead(problem: Problem) -> tuple[float, quick_ahead.Ahead] | None:
    """Minutes without any test, and those of each first act when one more test, or none, follows it."""
    on = _ground(problem)
    return None if on is None else quick_ahead.look_ahead(problem.p, problem.place, on)


def least_ahead(problem: Problem, most_tests: int) -> float | None:
    """Minutes of the best first act, a test looked ahead over after it."""
    on = _ground(problem)
    return None if on is None else quick_deeper.least(problem.p, problem.place, most_tests, on)


def test_looked_ahead(problem: Problem, test: int, *, most_tests: int, most: float) -> float | None:
    """Minutes of a test with `least_ahead` after each outcome; `most` where it is no better."""
    on = _ground(problem)
    return None if on is None else quick_deeper.deeper_after_test(problem, test, (most_tests, most), on)


def repair_looked_ahead(problem: Problem, repair: int, *, most_tests: int, most: float) -> float | None:
    """Minutes of a repair with `least_ahead` where it does not cure; `most` or more where it is no better.

    None also where the repair cures a cause only now and then: once spent, it is not to be tried again.
    """
    on, cures = _ground(problem), problem.cures[repair]
    if on is None or ((cures > 0.0) & (cures < 1.0)).any():
        return None
    return quick_deeper.deeper_after_repair(problem, repair, (most_tests, most), on)


def _ground(problem: Problem) -> quick_ground.Ground | None:
    """What the steps need; made once for problems that differ in the chances and the place alone.

    None without a compiler, or where repairs share causes, have set-ups or cannot be followed by giving the
    job away. One thread at a time works on a problem.
    """
    kept = _KEPT.get(id(problem.lik))
    if kept is not None and _differ_in_chances_alone(kept[0], problem):
        return kept[1]
    if len(_KEPT) >= _MOST_KEPT:
        _KEPT.clear()
    made = quick_ground.ground(problem) if quick is not None and _usual(problem) else None
    _KEPT[id(problem.lik)] = problem, made
    return made


def _differ_in_chances_alone(one: Problem, other: Problem) -> bool:
    return (
        one.lik is other.lik
        and one.setup is other.setup
        and one.cures is other.cures
        and one.test_cost is other.test_cost
        and one.repair_cost is other.repair_cost
        and one.goes_to is other.goes_to
        and one.fallback is other.fallback
    )


def _usual(problem: Problem) -> bool:
    repairs = problem.repairs
    return bool(
        repairs
        and not problem.setup[:, :repairs].any()
        and math.isfinite(problem.fallback.sum())
        and (problem.cures.sum(axis=0) == problem.cures.max(axis=0)).all()
    )
