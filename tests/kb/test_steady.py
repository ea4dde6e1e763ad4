"""Rows that surely have no change of rate are passed over; what moves too far is looked at again."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.recurrence import change_point
from baylore_kb.recurrence.cells import Sides
from baylore_kb.recurrence.counted import Counted
from baylore_kb.recurrence.steady import Steady

CARS = [(("A",), ("x",)), (("A",), ("y",)), (("B",), ("x",))]
OWN = np.array([[1, 2, 0], [3, 1, 1], [2, 2, 2]])
SHOP = np.array([100, 120, 90])
HOPED = np.array([4.0, 4.5, 5.0])
MONTH = st.tuples(st.integers(0, 9), st.floats(0.1, 9.0), st.floats(-1.0, 1.0))


def looked_at(evidence=0.0):
    """Rows of which nothing convinced when they were looked at."""
    counted = Counted([*"abc"], [Seen(6)] * 3, Sides.of(CARS))
    steady = Steady()
    assert not steady.sure(counted, HOPED, SHOP, start=0).any()
    steady.looked(np.arange(3), OWN, np.full(3, evidence))
    return steady, counted


class Seen:
    """A group of so many."""

    def __init__(self, count):
        self.count = count


def test_a_little_more_traffic_leaves_rows_alone_but_those_of_its_car():
    steady, counted = looked_at()
    steady.touch(("B",))
    assert steady.sure(counted, HOPED * 1.001, SHOP + [0, 0, 1], start=0).tolist() == [True, True, False]


@pytest.mark.parametrize("step", [1.02, 0.98])
def test_little_steps_add_up_until_a_row_is_looked_at_again(step):
    steady, counted = looked_at()
    hoped, sure = HOPED, []
    for _ in range(12):
        hoped = hoped * step
        sure.append(bool(steady.sure(counted, hoped, SHOP, start=0).all()))
    assert sure[0] and not sure[-1]
    assert sure == sorted(sure, reverse=True)


def test_what_nearly_convinced_or_stands_in_other_months_is_looked_at_again():
    steady, counted = looked_at(math.log(3.0))
    assert not steady.sure(counted, HOPED, SHOP, start=0).any()
    steady, counted = looked_at()
    assert not steady.sure(counted, HOPED, SHOP, start=1).any()


@given(st.lists(MONTH, min_size=2, max_size=30), st.floats(0.0, 0.5))
def test_evidence_moves_by_no_more_than_is_reckoned_with(months, most):
    counts, before, moves = (list(column) for column in zip(*months, strict=True))
    after = [each * math.exp(most * move) for each, move in zip(before, moves, strict=True)]
    moved = change_point(counts, after).evidence - change_point(counts, before).evidence
    assert abs(moved) <= (3.0 + 2.0 * sum(counts)) * most + 1e-6
