"""Who may do a test, what the shop has, and what the member put off."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.kb.invented_shop import empty_shop

from baylore_kb import Complaint, advise
from baylore_kb.plan.lacking import missing_tool
from baylore_kb.trade import load
from baylore_kb.values import Skipped, Terms, TestDone

TRADE = load()
EMPTY = empty_shop()
WARM_AIR = Complaint("", symptoms=("cold_then_warm",))
MISFIRE = Complaint("", symptoms=("misfire_load",), codes=("P0303",))
LAW = Terms(rights_needed=(("aircon", "refrigerant certificate"),))


def ask(complaint, *, terms=None, **more):
    return advise(replace(complaint, **more), EMPTY, terms=terms)


def by_id(answer):
    return {row.test: row for row in answer.tests}


@pytest.mark.parametrize(
    ("tools", "lacks", "missing"),
    [
        (("scope",), {"scope"}, "scope"),
        (("two-channel scope",), {"Scopes"}, "two-channel scope"),
        (("live data or scope",), {"scope"}, None),
        (("live data or scope",), {"scope", "live data"}, "live data or scope"),
        (("clamp and scope",), {"scope"}, "clamp and scope"),
        (("clamp",), {"low current clamp"}, None),
        (("gauge set", "thermometer"), {"pressure gauge set"}, "gauge set"),
        (("meter",), {"Multimeter"}, "meter"),
        (("torch", "mirror"), {"scope"}, None),
        ((), {"scope"}, None),
        (("meter",), {"  ", "?"}, None),
    ],
)
def test_a_tool_is_missing_when_no_way_to_have_it_is_left(tools, lacks, missing):
    assert missing_tool(tools, lacks) == missing


@given(st.sampled_from([tool for test in TRADE.tests.values() for tool in test.tools]))
def test_a_shop_that_lacks_a_tool_by_its_listed_name_cannot_do_its_tests(tool):
    if " or " not in tool:
        assert missing_tool([tool], {tool.upper()}) == tool
    assert missing_tool([tool], ()) is None


def test_a_test_of_a_system_that_needs_a_certificate_is_not_next_without_it():
    without = ask(WARM_AIR, terms=LAW)
    assert without.next.test is None or TRADE.tests[without.next.test].system != "aircon"
    assert all(not row.allowed for row in without.tests if TRADE.tests[row.test].system == "aircon")


def test_what_a_certificate_would_allow_is_listed_last_and_says_which():
    answer = ask(WARM_AIR, terms=LAW)
    barred = [row for row in answer.tests if not row.allowed]
    assert barred and answer.tests[-1] == barred[-1]
    assert all("needs the refrigerant certificate" in row.note for row in barred)


def test_a_member_with_the_certificate_is_sent_to_the_test():
    held = ask(WARM_AIR, terms=LAW, rights=frozenset({"Refrigerant  Certificate"}))
    assert held.next == ask(WARM_AIR).next
    assert TRADE.tests[held.next.test].system == "aircon"


def test_a_right_may_be_asked_for_one_test_alone():
    first = ask(MISFIRE).next.test
    answer = ask(MISFIRE, terms=Terms(rights_needed=((first, "the gas card"),)))
    assert answer.next.test != first
    assert by_id(answer)[first].note == "needs the gas card"


def test_a_test_above_the_members_skill_names_the_skill():
    rows = by_id(ask(WARM_AIR, skill=1)).values()
    assert {row.note for row in rows if not row.allowed} <= {f"needs skill {n}" for n in (2, 3, 4)}
    assert any(not row.allowed for row in rows)


def test_a_shop_without_the_tool_is_not_sent_to_the_test():
    first = ask(MISFIRE).next.test
    tool = TRADE.tests[first].tools[0]
    answer = ask(MISFIRE, terms=Terms(lacks=frozenset(TRADE.tests[first].tools)))
    assert answer.next.test != first
    assert by_id(answer)[first].note == f"the shop has no {tool}"


def test_a_skipped_test_is_not_proposed_again_and_stands_last():
    first = ask(MISFIRE).next.test
    answer = ask(MISFIRE, skipped=(Skipped(first, "no access"),))
    assert answer.next.test != first
    assert (answer.tests[-1].test, answer.tests[-1].note) == (first, "skipped: no access")


def test_a_test_put_off_comes_back_when_nothing_else_is_worth_testing():
    only = ask(MISFIRE).next.test
    others = [row.test for row in ask(MISFIRE).tests if row.test != only]
    later = (Skipped(only, "not now"),)
    assert ask(MISFIRE, skipped=later).next.test != only
    everything = [Skipped(test, "no access") for test in TRADE.tests if test != only]
    assert others and ask(MISFIRE, skipped=(*everything, *later)).next.test == only


def test_a_test_done_after_it_was_skipped_counts_as_done():
    first = ask(MISFIRE).next.test
    outcome = TRADE.tests[first].outcomes[0].id
    answer = ask(MISFIRE, skipped=(Skipped(first, "not now"),), tests=(TestDone(first, outcome),))
    assert first not in by_id(answer)


@settings(max_examples=20)
@given(
    st.sampled_from(sorted(TRADE.symptoms)),
    st.integers(1, 3),
    st.sampled_from(["meter", "scope", "live data"]),
)
def test_no_complaint_sends_anybody_to_what_he_may_not_or_cannot_do(symptom, skill, tool):
    answer = ask(Complaint("", symptoms=(symptom,)), skill=skill, terms=Terms(lacks=frozenset({tool})))
    barred = {row.test for row in answer.tests if not row.allowed}
    assert answer.next.test not in barred
    assert all(row.note for row in answer.tests if not row.allowed)
    if answer.next.test:
        test = TRADE.tests[answer.next.test]
        assert test.skill <= skill and missing_tool(test.tools, {tool}) is None
