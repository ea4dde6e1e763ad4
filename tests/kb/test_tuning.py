"""What a shop's closed cases teach the engine, and that it is kept only where it does better."""

import json

import pytest
from tests.kb.invented_shop import shop, shop_of

from baylore_kb.advice import SHIPPED_TUNING
from baylore_kb.errors import BadTuning
from baylore_kb.heldout import held_out
from baylore_kb.trade import load
from baylore_kb.tuning import as_document, from_document, trial, tune

TRADE = load()
CASES = shop(TRADE, 60, seed=5)
SHOP = shop_of(CASES)


@pytest.fixture(scope="module")
def tried():
    return trial(SHOP, most_asked=60)


def test_few_cases_keep_the_shipped_tuning_and_many_are_spread_evenly():
    assert tune(shop_of(CASES[:20])) == SHIPPED_TUNING
    assert len(held_out(SHOP, 25)) <= 25 < len(held_out(SHOP, 60))


def test_a_tuning_is_kept_only_where_it_does_better_on_cases_it_has_not_seen(tried):
    assert tried.cases == 60
    assert tried.adopted == (tried.tuned_loss < tried.shipped_loss)
    assert tried.adopted == (tried.tuning != SHIPPED_TUNING)


def test_the_temperature_stays_between_half_and_double(tried):
    assert 0.5 <= tried.tuning.temperature <= 2.0


def test_the_same_cases_always_teach_the_same(tried):
    assert trial(SHOP, most_asked=60) == tried


def test_a_kept_tuning_reads_back_as_it_was(tried):
    for tuning in (tried.tuning, SHIPPED_TUNING):
        assert from_document(json.loads(json.dumps(as_document(tuning)))) == tuning


@pytest.mark.parametrize(
    "spoiled", [{}, {"weights": {"words": 1.0}}, {"temperature": "warm"}, {"drawn_to": "shipped-1"}]
)
def test_a_tuning_of_another_version_is_refused(spoiled):
    with pytest.raises(BadTuning, match="does not fit"):
        from_document({**as_document(SHIPPED_TUNING), **spoiled} if spoiled else {})
