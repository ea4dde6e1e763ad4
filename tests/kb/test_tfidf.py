"""TF-IDF weights and cosines behave as vectors of unit length."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.tfidf import Terms, Tfidf

DOCUMENTS = st.lists(
    st.lists(st.sampled_from(["ac", "cold", "warm", "belt", "noise", "leak"]), max_size=6), min_size=1
)


def test_a_document_is_like_itself_and_unlike_one_that_shares_nothing():
    tfidf = Tfidf([["ac", "cold"], ["belt", "noise"]])
    assert tfidf.cosines(["ac", "cold"]).tolist() == pytest.approx([1.0, 0.0])


def test_unknown_words_dilute_only_when_asked_to():
    tfidf = Tfidf([["ac", "cold"], ["belt"]])
    assert tfidf.cosines(["ac", "cold", "zebra"])[0] == pytest.approx(1.0)
    assert tfidf.cosines(["ac", "cold", "zebra"], heed_unknown=True)[0] < 0.9


def test_no_terms_and_no_documents_give_no_likeness():
    assert Tfidf([["ac"]]).cosines([]).tolist() == [0.0]
    assert Tfidf([]).cosines(["ac"]).tolist() == []


def test_the_length_of_a_text_counts_terms_it_shares_with_no_document():
    terms = Terms([["ac"], ["zebra"]])
    tfidf = Tfidf([["ac"], ["ac", "ac"]], terms=terms)
    known, unknown = (tfidf.cosines(["ac", word], heed_unknown=True)[0] for word in ("zebra", "yak"))
    assert known == unknown < 1.0


@given(DOCUMENTS, st.lists(st.sampled_from(["ac", "cold", "warm", "zebra"]), max_size=6))
def test_cosines_and_containments_lie_between_nought_and_one(documents, asked):
    tfidf = Tfidf(documents, sublinear=True)
    numbers = tfidf.terms.counted(asked).numbers
    containments = tfidf.sparse.squared().dots(numbers, np.ones(len(numbers)))
    for scores in (tfidf.cosines(asked), containments):
        assert all(-1e-9 <= score <= 1 + 1e-9 for score in scores)
