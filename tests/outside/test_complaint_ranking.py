"""Ranking of real complaint texts (US NHTSA ODI, public domain) against plain TF-IDF, leave one out."""

import gzip
import json
import os
from pathlib import Path

import numpy as np
import pytest
from sklearn.feature_extraction.text import TfidfVectorizer

from baylore_kb.index import Snapshot
from baylore_kb.match import matches
from baylore_kb.question import understand
from baylore_kb.values import Case, Complaint, Vehicle

FILE = Path(os.environ.get("BAYLORE_OUTSIDE_DATA", "absent")) / "odi-complaints" / "complaints.jsonl.gz"
pytestmark = pytest.mark.skipif(
    not FILE.is_file(), reason="BAYLORE_OUTSIDE_DATA holds no odi-complaints folder"
)
UNLABELLED = "UNKNOWN OR OTHER"
ASKED_EVERY = 8


@pytest.fixture(scope="module")
def rows():
    with gzip.open(FILE, "rt", encoding="utf-8") as lines:
        return [row for row in map(json.loads, lines) if set(row["components"]) - {UNLABELLED}]


def mean_reciprocal_rank(rows, ranking):
    """`ranking(n)` gives row numbers best first; a row is right when it shares a component."""
    labels = [set(row["components"]) - {UNLABELLED} for row in rows]
    ranks = []
    for asked in range(0, len(rows), ASKED_EVERY):
        right = (place for place, n in enumerate(ranking(asked)[:10], 1) if labels[n] & labels[asked])
        ranks.append(1.0 / next(right, float("inf")))
    return float(np.mean(ranks))


def plain_ranking(rows):
    vectors = TfidfVectorizer(ngram_range=(1, 2), sublinear_tf=True).fit_transform(
        row["text"] for row in rows
    )
    likeness = (vectors @ vectors.T).toarray()
    np.fill_diagonal(likeness, -1.0)
    return lambda n: np.argsort(-likeness[n], kind="stable")


@pytest.fixture(scope="module")
def answers(rows):
    """For each asked row its candidates and its matches, as row numbers."""
    said = [Complaint(row["text"], Vehicle(make=row["make"], model=row["model"])) for row in rows]
    number = {row["id"]: n for n, row in enumerate(rows)}
    shop = Snapshot.build(
        Case(row["id"], each, "closed", cause="own.x") for row, each in zip(rows, said, strict=True)
    )
    found = {}
    for n in range(0, len(rows), ASKED_EVERY):
        question = understand(said[n], shop)
        candidates = shop.candidates(question, leave_out=frozenset({rows[n]["id"]}))
        ranked = (candidates, matches(question, candidates, shop))
        found[n] = [[number[each.case.id] for each in ranking] for ranking in ranked]
    return found


@pytest.mark.parametrize("ranking", [0, 1], ids=["candidates", "matches"])
def test_real_complaints_rank_better_than_by_plain_tf_idf(rows, answers, ranking):
    plain = mean_reciprocal_rank(rows, plain_ranking(rows))
    assert mean_reciprocal_rank(rows, lambda n: answers[n][ranking]) > plain
