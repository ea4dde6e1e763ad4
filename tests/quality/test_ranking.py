"""The memory ranks at least as well as general-purpose engines; `tests.quality.run` makes the figures.

Sets: see `sets.py` for the source of each. The engines compared with here are always installed: TF-IDF of
scikit-learn and FTS5 of SQLite; the others run in the benchmark alone.
"""

import pytest
from tests.quality.engines import ALWAYS, ranked
from tests.quality.sets import load, present

from baylore_kb.metrics import sign_flip

# Below this a difference of mean reciprocal ranks is not told from chance.
NOISE_P = 0.05


@pytest.fixture(scope="module")
def result():
    kept = {}

    def on(name, engine):
        if (name, engine) not in kept:
            kept[name, engine] = ranked(load(name), engine)
        return kept[name, engine]

    return on


def here(*names):
    return [
        pytest.param(
            name, marks=pytest.mark.skipif(not present(name), reason=f"BAYLORE_OUTSIDE_DATA holds no {name}")
        )
        for name in names
    ]


@pytest.mark.parametrize(
    "name", here("complaints", "recalls", "short-texts", "cranfield", "cisi", "demo", "town", "town-2-typos")
)
@pytest.mark.parametrize("ours", ["ours, text index", "ours, words"])
def test_by_words_alone_no_engine_that_is_always_here_ranks_better(name, ours, result):
    best = max((result(name, engine) for engine in ALWAYS), key=lambda each: each.mrr)
    flip = sign_flip(result(name, ours).ranks, best.ranks)
    assert flip.mean_difference > 0 or flip.p_value > NOISE_P


@pytest.mark.parametrize("name", here("recalls", "town", "town-2-typos"))
def test_by_words_alone_cars_are_ranked_clearly_better(name, result):
    best = max(result(name, engine).mrr for engine in ALWAYS)
    assert result(name, "ours, words").mrr >= best + 0.03


@pytest.mark.parametrize("name", here("recalls", "demo", "town"))
def test_with_all_that_is_known_the_gain_is_at_least_a_tenth(name, result):
    best = max(result(name, engine).mrr for engine in ALWAYS)
    assert result(name, "ours, all known").mrr >= best + 0.10


def test_misspelt_words_cost_little(result):
    assert result("town-2-typos", "ours, words").mrr >= result("town", "ours, words").mrr - 0.02
