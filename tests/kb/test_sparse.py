"""Collections asked together answer as each does alone."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.sparse import Sparse, Stacked

TERMS = 4
WEIGHT = st.integers(0, 3)
COLLECTION = st.lists(st.lists(WEIGHT, min_size=TERMS, max_size=TERMS), min_size=1, max_size=5)
QUESTION = st.lists(st.tuples(st.integers(0, TERMS - 1), WEIGHT), max_size=6)


def laid(table):
    held = [(row, term, w) for row, terms in enumerate(table) for term, w in enumerate(terms) if w]
    rows, terms, weights = zip(*held, strict=True) if held else ((), (), ())
    return Sparse.of(rows, terms, weights, terms=TERMS, size=len(table))


def asked(question):
    return [term for term, _ in question], [weight for _, weight in question]


@given(COLLECTION, QUESTION)
def test_a_product_is_that_of_the_full_table(table, question):
    weights = np.zeros(TERMS)
    for term, weight in question:
        weights[term] += weight
    assert laid(table).dots(asked(question)).tolist() == (np.array(table) @ weights).tolist()


@given(st.lists(st.tuples(COLLECTION, QUESTION), min_size=1, max_size=3))
def test_collections_asked_together_answer_as_each_alone(several):
    together = Stacked([laid(table) for table, _ in several]).dots([asked(q) for _, q in several])
    alone = [laid(table).dots(asked(question)) for table, question in several]
    assert [scores.tolist() for scores in together] == [scores.tolist() for scores in alone]


def test_weights_are_squared_where_they_stand():
    assert laid([[0, 3, 0, 0], [2, 0, 0, 0]]).squared().dots(([0, 1], [1.0, 1.0])) == pytest.approx([9, 4])
