"""TF-IDF and BM25 against scikit-learn and against published figures."""

import numpy as np
import pytest
from sklearn.feature_extraction.text import TfidfVectorizer

from baylore_kb.index import Snapshot
from baylore_kb.scoring import bm25, bm25_idf
from baylore_kb.segment import Segment
from baylore_kb.text import word_grams
from baylore_kb.tfidf import Tfidf
from baylore_kb.values import Case, Complaint

DOCUMENTS = [
    "ac blows warm air",
    "no cold air compressor clutch not engaging",
    "battery dead every morning",
    "engine cranks slow battery weak",
    "warm air from vents at idle only",
]
QUERIES = ["warm air", "battery dead slow crank", "compresor clutch", "nothing of it"]


def grams(text):
    return [gram for word in text.split() for gram in word_grams(word)]


@pytest.mark.parametrize("query", QUERIES)
@pytest.mark.parametrize("sublinear", [False, True])
def test_word_cosines_equal_scikit_learn(query, sublinear):
    vectorizer = TfidfVectorizer(token_pattern=r"\w+", sublinear_tf=sublinear)
    matrix = vectorizer.fit_transform(DOCUMENTS)
    expected = (matrix @ vectorizer.transform([query]).T).toarray().ravel()
    ours = Tfidf([text.split() for text in DOCUMENTS], sublinear=sublinear)
    assert ours.cosines(query.split()) == pytest.approx(expected, abs=1e-12)


@pytest.mark.parametrize("query", QUERIES)
def test_character_cosines_equal_scikit_learn(query):
    vectorizer = TfidfVectorizer(analyzer="char_wb", ngram_range=(3, 5), sublinear_tf=True)
    matrix = vectorizer.fit_transform(DOCUMENTS)
    expected = (matrix @ vectorizer.transform([query]).T).toarray().ravel()
    assert Tfidf([grams(t) for t in DOCUMENTS], sublinear=True).cosines(grams(query)) == pytest.approx(
        expected
    )


@pytest.mark.parametrize("word", ["a", "ac", "clutch", "é", "compressor"])
def test_character_grams_equal_scikit_learn(word):
    analyze = TfidfVectorizer(analyzer="char_wb", ngram_range=(3, 5)).build_analyzer()
    assert sorted(word_grams(word)) == sorted(analyze(word))


@pytest.mark.parametrize(
    ("query", "expected"),
    # Okapi BM25, k1 1.2, b 0.75, idf ln(1 + (N - df + 0.5) / (df + 0.5)): Robertson & Zaragoza 2009,
    # worked by the formula.
    [
        ("warm air", [1.5822831, 0.48072661, 0.0, 0.0, 1.2615501]),
        ("battery dead slow crank", [0.0, 0.0, 2.5301079, 2.3324432, 0.0]),
    ],
)
def test_bm25_equals_the_formula(query, expected):
    snapshot = Snapshot.build([])
    vocabulary = sorted({word for text in DOCUMENTS for word in text.split()})
    number = {word: n for n, word in enumerate(vocabulary)}
    segment = Segment.of([bare_doc(snapshot, text, number) for text in DOCUMENTS], first=0)
    df = [sum(word in text.split() for text in DOCUMENTS) for word in vocabulary]
    weights = dict(enumerate(bm25_idf(len(DOCUMENTS), df)))
    asked = {number[word]: weights[number[word]] for word in query.split() if word in number}
    assert bm25([segment], asked, size=5, mean_length=5.4) == pytest.approx(expected, abs=1e-6)


def bare_doc(snapshot, text, number):
    """A document of plain words, past the analyzer, so that only the scoring is checked."""
    read = snapshot.reader.read(Case("c", Complaint("")))
    words = sorted(number[word] for word in text.split())
    fields = {name: getattr(read, name) for name in ("case", "words", "facets", "symptoms", "judged")}
    terms = np.asarray(words, dtype=np.int32)
    return type(read)(
        terms=terms, weights=np.ones(len(words), np.float32), length=float(len(words)), **fields
    )
