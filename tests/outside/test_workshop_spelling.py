"""Workshop short hand is read: MaintNorm (University of Western Australia, MIT), its developer half.

Error reduction = (share right - share right when left as written) / (1 - the latter), over words that are not
masked, capitals aside; the share right is over five folds, each learned on the other four.
"""

import gzip
import json
import os
import random
from pathlib import Path
from statistics import mean

import pytest

from baylore_kb.spelling import Speller
from baylore_kb.trade import load
from baylore_kb.vocabulary import trade_words

FILE = Path(os.environ.get("BAYLORE_OUTSIDE_DATA", "absent")) / "short-text" / "normalise.jsonl.gz"
pytestmark = pytest.mark.skipif(not FILE.is_file(), reason="BAYLORE_OUTSIDE_DATA holds no short-text folder")
FOLDS = 5
WORDS = dict.fromkeys(trade_words(load()), 0)


@pytest.fixture(scope="module")
def pairs():
    with gzip.open(FILE, "rt", encoding="utf-8") as lines:
        rows = [json.loads(line) for line in lines]
    random.Random(1).shuffle(rows)
    return [(row["raw"], row["norm"]) for row in rows]


def error_reduction(speller, pairs):
    right, same = [], []
    for written, meant in pairs:
        for typed, true, read in zip(written, meant, speller.read(written), strict=True):
            if not true.startswith("<"):
                right.append(read == true)
                same.append(typed.lower() == true)
    return (mean(right) - mean(same)) / (1 - mean(same))


def test_every_fold_is_read_with_an_error_reduction_of_at_least_85_percent(pairs):
    size = len(pairs) // FOLDS
    for fold in range(FOLDS):
        held = pairs[fold * size : (fold + 1) * size]
        rest = pairs[: fold * size] + pairs[(fold + 1) * size :]
        assert error_reduction(Speller(rest, words=WORDS), held) >= 0.85


def test_more_pairs_teach_more(pairs):
    held, rest = pairs[:2000], pairs[2000:]
    reduced = [error_reduction(Speller(rest[:count], words=WORDS), held) for count in (0, 100, 1000, 8000)]
    assert reduced == sorted(reduced)
