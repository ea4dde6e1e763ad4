"""The planner's numbers: what must hold for any problem."""

import dataclasses
from unittest.mock import patch

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baylore_kb.plan import compiled, exact
from baylore_kb.plan.ahead import look_ahead, one_test
from baylore_kb.plan.choose import weigh
from baylore_kb.plan.deeper import _best, deeper
from baylore_kb.plan.line import replace_above
from baylore_kb.plan.orders import repair_only, stop_line
from baylore_kb.plan.places import setup_minutes, setup_words
from baylore_kb.plan.problem import Problem, problem
from baylore_kb.trade import load


def rows(chance: np.random.Generator, causes: int, outcomes: int) -> np.ndarray:
    made = chance.dirichlet(np.full(outcomes, 0.6), size=causes)
    return made


@st.composite
def problems(draw) -> Problem:
    chance = np.random.default_rng(draw(st.integers(0, 10_000)))
    causes, tests = draw(st.integers(2, 4)), draw(st.integers(0, 3))
    made = [
        (float(chance.uniform(2, 30)), rows(chance, causes, int(chance.integers(2, 4)))) for _ in range(tests)
    ]
    fallback = draw(st.sampled_from([np.inf, 400.0, 90.0]))
    return problem(
        chance.dirichlet(np.ones(causes)), chance.uniform(10, 300, size=causes), tests=made, fallback=fallback
    )


@settings(max_examples=60, deadline=None)
@given(problems())
def test_the_exact_plan_is_never_dearer_than_looking_ahead_or_repairing_only(made):
    best = exact.solve(made).best
    ahead = look_ahead(made)
    assert best <= ahead.choice.best + 1e-6
    assert ahead.choice.best <= ahead.stop + 1e-6
    assert ahead.stop == pytest.approx(repair_only(made.p[None], made)[0])


@settings(max_examples=40, deadline=None)
@given(problems())
def test_a_step_deeper_only_lowers_costs_and_never_below_the_best_plan(made):
    ahead, best = look_ahead(made).choice, exact.solve(made)
    deep = deeper(made, ahead)
    assert (deep.by_test <= ahead.by_test + 1e-9).all() and (deep.by_repair <= ahead.by_repair + 1e-9).all()
    assert (deep.by_test >= best.by_test - 1e-6).all() and (deep.by_repair >= best.by_repair - 1e-6).all()


@settings(max_examples=40, deadline=None)
@given(problems())
def test_above_its_line_a_repair_really_comes_before_every_test(made):
    line = replace_above(made, 0)
    if line is not None:
        other = made.p.copy()
        other[0] = 0.0
        sure = np.append(line, (1.0 - line) * other[1:] / other.sum())
        assert look_ahead(dataclasses.replace(made, p=sure)).choice.first == ("repair", 0)
        assert made.p[0] <= line < 1.0


def test_no_line_is_drawn_where_proof_comes_first_at_any_chance():
    made = problem(np.array([0.5, 0.5]), np.array([100.0, 80.0]), tests=[(10.0, np.eye(2))])
    assert replace_above(made, 0) == pytest.approx(0.9, abs=0.02)
    assert replace_above(made, 0, at_least=0.999) is None


def test_a_problem_too_large_to_count_in_an_ordinary_integer_is_not_taken_for_small():
    chance = np.random.default_rng(1)
    tests = [(5.0, rows(chance, 40, 3)) for _ in range(16)]
    large = problem(np.full(40, 1 / 40), np.full(40, 90.0), tests=tests, fallback=500.0)
    assert exact.states(large) == 4**16 * 2**40
    assert weigh(large).first[0] in ("test", "repair", "refer")


@settings(max_examples=60, deadline=None)
@given(problems())
def test_outcomes_are_chances_and_average_back_to_the_causes(made):
    for test, table in enumerate(made.lik):
        seen = table @ made.p
        then = [made.after_outcome(test, k).p for k in np.flatnonzero(seen)]
        assert seen.sum() == pytest.approx(1.0)
        assert seen[seen > 0.0] @ np.array(then) == pytest.approx(made.p)
    assert (one_test(made).bits(made) >= -1e-9).all()


@pytest.mark.skipif(compiled.quick is None, reason="numba is missing")
@settings(max_examples=60, deadline=None)
@given(problems())
def test_compiled_steps_cost_what_the_plain_ones_cost(made):
    costs = []
    for ground in (compiled._ground, lambda problem: None):
        with patch.object(compiled, "_ground", ground):
            one, ahead = one_test(made), look_ahead(made)
            deep = deeper(made, ahead.choice)
            costs.append(
                [
                    *one.cost,
                    *one.doubt,
                    ahead.stop,
                    *ahead.alone,
                    *ahead.without,
                    *deep.by_test,
                    *deep.by_repair,
                    _best(made),
                ]
            )
    assert costs[0] == pytest.approx(costs[1], rel=1e-6, abs=1e-9)


@settings(max_examples=40, deadline=None)
@given(problems(), st.floats(1.0, 50.0))
def test_a_test_that_tells_nothing_saves_nothing(made, minutes):
    blind = (minutes, np.full((len(made.p), 2), 0.5))
    tests = [(float(c), made.lik[k].T) for k, c in enumerate(made.test_cost)]
    with_it = problem(made.p, made.repair_cost, tests=[*tests, blind], fallback=made.fallback)
    assert look_ahead(with_it).saves[-1] <= 1e-6


def test_replacing_pays_above_the_stop_line_and_testing_below_it():
    line = stop_line(0.5, cost_a=100.0, cost_b=80.0, test_cost=10.0)
    sure = np.eye(2)
    for p, first in ((line.replace_a_above + 0.01, "repair"), (line.replace_a_above - 0.01, "test")):
        given_p = problem(np.array([p, 1 - p]), np.array([100.0, 80.0]), tests=[(10.0, sure)])
        assert exact.solve(given_p).first[0] == first


def test_giving_the_job_away_wins_where_everything_else_is_dearer():
    spread = problem(np.full(4, 0.25), np.full(4, 300.0), fallback=200.0)
    assert exact.solve(spread).first == ("refer", 0)
    assert look_ahead(spread).choice.first == ("refer", 0)


def test_a_problem_without_a_way_to_work_costs_infinitely_much():
    lost = problem(np.array([0.5, 0.5]), np.array([10.0]), cures=np.array([[1.0, 0.0]]))
    assert np.isinf(exact.solve(lost).best)


def test_a_second_test_in_the_same_state_with_tools_at_hand_needs_no_set_up():
    trade = load()
    first, second = trade.tests["crank_drop_pos"], trade.tests["crank_drop_neg"]
    assert setup_minutes(None, second) == second.setup_min > 0
    assert setup_minutes(first, second) == 0.0


def test_a_car_already_up_is_not_raised_again():
    trade = load()
    up = [test for test in trade.tests.values() if test.state.raised and test.state.wheels == "on"]
    down = next(test for test in trade.tests.values() if not test.state.raised)
    one, other = up[0], next(test for test in up if set(test.tools) - set(up[0].tools))
    assert setup_minutes(one, other) < setup_minutes(down, other)
    assert "on the lift" in setup_words(one)
