"""The memory ranks at least as well as general-purpose engines; `tests.quality.run` makes the figures.

Sets: see `outside.py` and `shops.py` for the source of each. Compared with here are engines that are always
installed, TF-IDF of scikit-learn and FTS5 of SQLite, and the figures printed with outside sets; the other
engines run in the benchmark alone. A bar that the ranking does not reach yet is not tested; the benchmark's
table shows it.
"""

import pytest
from tests.quality.engines import ALWAYS, ranked
from tests.quality.measures import gap
from tests.quality.published import PRINTED
from tests.quality.sets import load, present

# Below this a difference of mean reciprocal ranks is not told from chance.
NOISE_P = 0.05
SHOPS = ("demo", "town", "town-1-typo", "town-2-typos", "town-misheard")
OUTSIDE = ("complaints", "recalls", "recalls-car", "short-texts", "cranfield", "cisi")


@pytest.fixture(scope="module")
def result():
    kept = {}

    def on(name, engine):
        if (name, engine) not in kept:
            kept[name, engine] = ranked(load(name), engine)
        return kept[name, engine]

    return on


def here(*names):
    return [pytest.param(name, marks=marks(name)) for name in names]


def marks(name):
    """Outside sets take longer and may be absent."""
    absent = pytest.mark.skipif(not present(name), reason=f"BAYLORE_OUTSIDE_DATA holds no {name}")
    return [] if name in SHOPS else [pytest.mark.slow, absent]


def best_of(result, name):
    return max((result(name, engine) for engine in ALWAYS), key=lambda each: each.mrr)


def best_figures(result, name):
    """The best MRR and the best nDCG of any engine for text, as run here or printed with the set."""
    printed = [(mrr, ndcg) for _, _, mrr, ndcg in PRINTED.get(name, {}).values()]
    run = [(each.mrr, each.ndcg) for each in (result(name, engine) for engine in ALWAYS)]
    return map(max, zip(*printed, *run, strict=True))


@pytest.mark.parametrize("name", here(*SHOPS, *OUTSIDE))
@pytest.mark.parametrize("ours", ["ours, text index", "ours, words"])
def test_by_words_alone_no_engine_that_is_always_here_ranks_better(name, ours, result):
    apart = gap(result(name, ours), best_of(result, name))
    assert apart.mean > 0 or apart.p > NOISE_P


@pytest.mark.parametrize(
    "name", here("demo", "town", "town-2-typos", "town-misheard", "complaints", "recalls")
)
def test_by_words_alone_cars_are_ranked_clearly_better(name, result):
    assert result(name, "ours, words").mrr >= best_of(result, name).mrr + 0.03


@pytest.mark.parametrize("name", here(*SHOPS, "recalls", "complaints"))
def test_with_all_that_is_known_the_gain_is_at_least_a_tenth(name, result):
    mrr, ndcg = best_figures(result, name)
    ours = result(name, "ours, all known")
    assert ours.mrr >= mrr + 0.10 and ours.ndcg >= ndcg


@pytest.mark.parametrize("name", ["town-1-typo", "town-2-typos"])
def test_misspelt_words_cost_little(name, result):
    assert result(name, "ours, words").mrr >= result("town", "ours, words").mrr - 0.02
