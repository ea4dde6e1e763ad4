"""Tables of all tests say what each test says by itself."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baylore_kb.causes import Columns, beliefs_of
from baylore_kb.causes.outcome_tables import outcome_tables
from baylore_kb.tally import Tally
from baylore_kb.trade import load

TRADE = load()
BELIEFS = beliefs_of(TRADE)
OWN = ("own.mouse", "own.wet_joint")


@st.composite
def counted(draw) -> Tally:
    """A shop's counts of some tests, of listed causes and its own."""
    outcomes = {}
    for test in draw(st.lists(st.sampled_from(BELIEFS.tests), max_size=6, unique=True)):
        seen = st.sampled_from([*(known.id for known in TRADE.tests[test].outcomes), "not listed"])
        cause = st.sampled_from([*BELIEFS.causes, *OWN, "own.not_in_question"])
        outcomes[test] = draw(st.dictionaries(st.tuples(cause, seen), st.sampled_from([0.5, 1.0, 7.0])))
    return Tally(outcomes=outcomes)


@settings(max_examples=25, deadline=None)
@given(counted(), st.integers(0, 10_000))
def test_tables_of_many_tests_hold_what_each_test_tells_by_itself(tally, seed):
    chance = np.random.default_rng(seed)
    columns, tables = Columns.of(BELIEFS, OWN), outcome_tables(BELIEFS, tally)
    counted_ones = [BELIEFS.test_at[test] for test in tally.outcomes]
    tests = np.unique([*counted_ones, *chance.choice(len(BELIEFS.tests), 5)])
    picked = chance.choice(columns.count - 1, 30, replace=False)
    chances = chance.dirichlet(np.ones(columns.count))
    named, mixed = tables.of_causes(tests, columns, picked), tables.of_any(tests, columns, chances)
    for row, place in enumerate(tests):
        alone = columns.outcomes(BELIEFS.tests[place], tally)
        assert named[row, : len(alone)] == pytest.approx(alone[:, picked])
        assert mixed[row, : len(alone)] == pytest.approx(alone @ chances)
        assert not named[row, len(alone) :].any() and not mixed[row, len(alone) :].any()
