"""The whole answer carries what moved the causes, what is at odds, and cases that follow the evidence."""

from dataclasses import replace

from tests.kb.causes_asked import CABLE, CLICK, STARTER
from tests.kb.invented_shop import shop_of

from baylore_kb import advise
from baylore_kb.values import Case, Objected, TestDone, Vehicle

LINNET = Vehicle(2011, "Tarrow", "Linnet")
ASKED = replace(CLICK, vehicle=LINNET)
KEPT = {"starter-1": STARTER, "starter-2": STARTER, "starter-3": STARTER, "cable": CABLE}
SHOP = shop_of(Case(id, ASKED, "closed", cause=cause, verified=True) for id, cause in KEPT.items())
HIGH_DROP = replace(ASKED, tests=(TestDone("crank_drop_neg", "high"),))


def test_the_past_case_whose_cause_the_tests_support_comes_first():
    before, after = advise(ASKED, SHOP), advise(HIGH_DROP, SHOP)
    assert before.cases[0].case.cause == STARTER
    assert after.cases[0].case.id == "cable"
    assert after.cases[1].chance < before.cases[0].chance


def test_a_limit_is_laid_on_the_cases_after_the_evidence():
    assert [match.case.id for match in advise(HIGH_DROP, SHOP, limit=1).cases] == ["cable"]


def test_the_answer_tells_evidence_at_odds_and_what_moved_the_first_cause():
    low = TestDone("crank_v_test", "low")
    answer = advise(replace(HIGH_DROP, tests=(*HIGH_DROP.tests, low)), SHOP)
    assert [conflict.kind for conflict in answer.conflicts] == ["outcome"]
    assert answer.causes[0].moved and answer.causes[0].from_cases == ("cable",)


def test_a_cause_objected_to_leads_neither_the_causes_nor_the_cases():
    answer = advise(replace(ASKED, objections=(Objected(STARTER, "proved good"),)), SHOP)
    assert answer.causes[0].cause != STARTER
    assert answer.cases[0].case.id == "cable"
