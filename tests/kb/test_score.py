"""The leave-one-out score of a memory, and jobs played through on paper."""

import pytest
from tests.kb.invented_shop import empty_shop, shop, shop_of

from baylore_kb.heldout import as_asked, same_job
from baylore_kb.score import score
from baylore_kb.trade import load
from baylore_kb.values import Case, Complaint, Reading, TestDone, Vehicle

TRADE = load()
CASES = shop(TRADE, 60, seed=5)
SHOP = shop_of(CASES)


@pytest.fixture(scope="module")
def scored():
    return score(SHOP, most_asked=15, most_jobs=5)


def test_each_figure_of_the_score_stays_within_its_range(scored):
    assert scored.asked == 15
    assert 0 <= scored.case_hits[1] <= scored.case_hits[3] <= scored.case_hits[10] <= 1
    assert 0 <= scored.cause_hits[1] <= scored.cause_hits[3] <= scored.cause_hits[10] <= 1
    assert 0 <= scored.calibration.ece <= 1 and sum(row.count for row in scored.calibration.bins) == 15
    assert 0.05 <= scored.unlisted < 1


def test_following_the_advice_costs_less_than_replacing_by_habit(scored):
    assert scored.jobs == 5
    assert scored.minutes_saved == scored.by_frequency - scored.by_plan > 0


def test_the_same_memory_always_scores_the_same(scored):
    assert score(SHOP, most_asked=15, most_jobs=5) == scored


def test_the_score_is_told_in_plain_lines_that_call_few_cases_rough(scored):
    text = scored.text()
    assert "closed cases asked of the others: 15" in text
    assert "rough" in text and "saved" in text


def test_an_empty_memory_scores_nothing_asked():
    empty = score(empty_shop())
    assert (empty.asked, empty.minutes_saved, empty.case_ndcg) == (0, None, None)
    assert empty.text().startswith("closed cases asked of the others: 0")


def test_a_held_out_case_is_asked_without_what_gave_its_cause_away():
    tests = (
        TestDone("crank_v_test", "high"),
        TestDone("crank_drop_neg", "high"),
        TestDone("charge_test", "ok"),
    )
    readings = (Reading("crank_v", 12.3, "V"), Reading("crank_v", 10.4, "V", when="after"))
    case = Case("c1", Complaint("no crank", tests=tests, readings=readings), confirmed_by="crank_drop_neg")
    asked = as_asked(case, with_tests=True)
    assert [done.test for done in asked.tests] == ["crank_v_test"]
    assert [reading.when for reading in asked.readings] == ["before"]
    assert as_asked(case, with_tests=False).tests == ()


def test_visits_of_the_same_car_are_hidden_together():
    car = Complaint("misfire", Vehicle(vin="1M8GDM9AXKP042788"))
    cases = [Case("c1", car, returned_as=("c2",)), Case("c2", Complaint("again")), Case("c3", car)]
    assert same_job(cases[0], shop_of(cases)) == {"c1", "c2", "c3"}
