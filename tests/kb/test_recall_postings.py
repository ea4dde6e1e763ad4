"""Postings, numbers alone: each value stays right whatever is made of it, and merging changes no answer."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baylore_kb.recall.fresh import Row
from baylore_kb.recall.kernels import compiled
from baylore_kb.recall.layout import impacts
from baylore_kb.recall.postings import FRESH, Documents, Postings

KERNELS = [
    pytest.param(False, id="numpy"),
    pytest.param(True, id="compiled", marks=pytest.mark.skipif(compiled is None, reason="numba is missing")),
]
COUNTS = st.dictionaries(st.integers(0, 12), st.integers(1, 5), max_size=6)
QUESTIONS = st.dictionaries(st.integers(0, 14), st.floats(0, 9), max_size=5)
CHANGES = st.lists(COUNTS | st.integers(0, 20) | st.sampled_from(["merge", "begin", "end"]), max_size=25)


def row(counts):
    terms = np.array(sorted(counts), dtype=np.int32)
    weights = np.array([counts[term] for term in terms.tolist()])
    return Row(terms, weights, float(weights.sum()))


def held(postings):
    """Which living documents hold each term."""
    found = {term: postings.best({term: 1.0}, 99)[0].tolist() for term in range(13)}
    return {term: sorted(numbers) for term, numbers in found.items() if numbers}


def expected(documents):
    terms = {term for counts in documents.values() for term in counts}
    return {term: sorted(n for n, counts in documents.items() if term in counts) for term in terms}


@pytest.mark.parametrize("compile", KERNELS)
@given(changes=CHANGES)
@settings(max_examples=80, deadline=None)
def test_what_lives_is_found_through_changes_and_merges_that_changes_overtake(compile, changes):
    postings, documents, under_way = Postings.none(compile=compile), {}, None
    for change in changes:
        if isinstance(change, dict):
            documents[postings.next] = change
            postings = postings.with_changes(put=[row(change)])
        elif isinstance(change, int):
            documents.pop(change, None)
            postings = postings.with_changes(deleted=[change])
        elif change == "merge" and under_way is None:
            postings = postings.merged()
        elif change == "begin" and under_way is None:
            under_way = postings, postings.merged()
        elif change == "end" and under_way is not None:
            before, merged = under_way
            postings, under_way = merged.caught_up(before, postings), None
    assert held(postings) == expected(documents)
    assert len(postings) == len(documents)
    assert postings.length == sum(sum(counts.values()) for counts in documents.values())


@pytest.mark.parametrize("compile", KERNELS)
@given(documents=st.lists(COUNTS, min_size=1, max_size=30), question=QUESTIONS, k=st.integers(0, 12))
@settings(max_examples=80, deadline=None)
def test_the_best_are_those_of_the_highest_sums_of_weight_times_impact(compile, documents, question, k):
    postings = Postings.of(documents_of(documents), compile=compile)
    sums = [scored(counts, question, postings.mean_length) for counts in documents]
    numbers, scores = postings.best(question, k)
    best = sorted((score for score in sums if score > 0), reverse=True)[:k]
    near = {"abs": 1e-4 * sum(question.values()) + 1e-12}
    assert scores.tolist() == pytest.approx(best[: len(scores)], **near)
    assert all(score <= near["abs"] for score in best[len(scores) :])
    assert [sums[n] for n in numbers.tolist()] == pytest.approx(scores.tolist(), **near)


def documents_of(documents):
    rows = [row(counts) for counts in documents]
    return Documents(
        np.concatenate([each.terms for each in rows]),
        np.concatenate([each.weights for each in rows]),
        np.cumsum([len(each.terms) for each in rows], dtype=np.int64),
        np.array([each.length for each in rows]),
    )


def scored(counts, question, mean):
    length = sum(counts.values())
    parts = {term: int(impacts(np.array(tf), length, mean)) * 2.2 / 255 for term, tf in counts.items()}
    return math.fsum(weight * parts.get(term, 0.0) for term, weight in question.items())


def test_an_older_value_stays_right_when_two_newer_ones_are_made_of_it():
    first = Postings.none().with_changes(put=[row({1: 1}), row({1: 1, 2: 1})])
    one, other = first.with_changes(put=[row({3: 1})]), first.with_changes(put=[row({4: 1})], deleted=[0])
    assert held(first) == {1: [0, 1], 2: [1]}
    assert held(one) == {1: [0, 1], 2: [1], 3: [2]}
    assert held(other) == {1: [1], 2: [1], 4: [2]}
    assert held(one.merged().with_changes(deleted=[1])) == {1: [0], 3: [2]} and held(one)[2] == [1]


@pytest.mark.parametrize("fresh", [True, False])
def test_only_what_is_allowed_is_found(fresh):
    postings = Postings.none().with_changes(put=[row({1: n + 1}) for n in range(5)])
    postings = postings if fresh else postings.merged()
    allowed = np.array([True, False, True, False, False])
    assert sorted(postings.best({1: 2.0}, 9, allowed=allowed)[0].tolist()) == [0, 2]
    with pytest.raises(ValueError, match="2 documents of 5"):
        postings.best({1: 1.0}, 9, allowed=allowed[:2])


@pytest.mark.parametrize("weight", [-1.0, math.nan, math.inf])
def test_a_weight_that_is_none_is_refused(weight):
    with pytest.raises(ValueError, match="0 or more"):
        Postings.none().best({1: weight}, 3)


def test_terms_are_counted_in_what_is_laid_out_and_what_is_fresh():
    postings = Postings.none().with_changes(put=[row({1: 1}), row({1: 3, 2: 1})]).merged()
    postings = postings.with_changes(put=[row({1: 1, 9: 1})])
    assert postings.counts(np.array([1, 2, 9, 50], dtype=np.int32)).tolist() == [3, 1, 1, 0]


def test_many_at_once_are_laid_out_at_once_and_merging_is_due_only_after_many_changes():
    many = [row({n % 7: 1}) for n in range(FRESH + 5)]
    postings = Postings.none().with_changes(put=many[:3]).with_changes(put=many)
    assert not postings.fresh and not postings.due and len(postings) == FRESH + 8
    one_by_one = Postings.none().with_changes(put=many[:FRESH])
    assert one_by_one.due and not one_by_one.merged().due
    assert postings.with_changes(deleted=range(FRESH + 8)).merged().parts == ()


def test_weights_of_documents_need_not_be_whole():
    postings = Postings.none().with_changes(
        put=[Row(np.array([1], np.int32), np.array([0.4]), 1.0), row({1: 1})]
    )
    assert postings.best({1: 1.0}, 2)[0].tolist() == [1, 0]
