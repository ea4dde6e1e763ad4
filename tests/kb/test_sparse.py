"""Collections asked together answer as each does alone."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb import added_plain
from baylore_kb.sparse import Sparse, Stacked

TERMS = 4
WEIGHT = st.integers(0, 3)
COLLECTION = st.lists(st.lists(WEIGHT, min_size=TERMS, max_size=TERMS), min_size=1, max_size=5)
QUESTION = st.lists(st.tuples(st.integers(0, TERMS - 1), WEIGHT), max_size=6)


def laid(table):
    held = [(row, term, w) for row, terms in enumerate(table) for term, w in enumerate(terms) if w]
    rows, terms, weights = zip(*held, strict=True) if held else ((), (), ())
    return Sparse.of(rows, terms, np.array(weights, dtype=np.float64), terms=TERMS, size=len(table))


def asked(question):
    numbers = np.array([term for term, _ in question], dtype=np.int64)
    return numbers, np.array([weight for _, weight in question], dtype=np.float64)


@given(COLLECTION, QUESTION)
def test_a_product_is_that_of_the_full_table(table, question):
    weights = np.zeros(TERMS)
    for term, weight in question:
        weights[term] += weight
    assert laid(table).dots(*asked(question)).tolist() == (np.array(table) @ weights).tolist()


@given(st.lists(st.tuples(COLLECTION, QUESTION), min_size=1, max_size=3))
def test_collections_asked_together_answer_as_each_alone(several):
    together = Stacked([laid(table) for table, _ in several]).dots([asked(q) for _, q in several])
    alone = [laid(table).dots(*asked(question)) for table, question in several]
    assert [scores.tolist() for scores in together] == [scores.tolist() for scores in alone]


def test_weights_are_squared_where_they_stand():
    assert laid([[0, 3, 0, 0], [2, 0, 0, 0]]).squared().dots(*asked([(0, 1), (1, 1)])).tolist() == [9, 4]


@given(COLLECTION, QUESTION)
def test_compiled_and_plain_adding_up_give_the_same(table, question):
    compiled = pytest.importorskip("baylore_kb.added_compiled", reason="numba is not installed")
    held = laid(table)
    both = [
        each.added(held.starts, held.rows, held.values, asked(question), size=held.size).tolist()
        for each in (compiled, added_plain)
    ]
    assert both[0] == both[1]
