"""Past cases follow the evidence: they fall with their cause and rise with it, and nothing counts twice."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.kb.causes_asked import CABLE, CLICK, STARTER, TRADE, after, past

from baylore_kb.values import Complaint, Objected, PartTried, Reading, TestDone

HIGH_DROP = TestDone("crank_drop_neg", "high")
MATCHES = (past(1, STARTER, chance=0.6), past(2, CABLE, chance=0.4), past(3, None, chance=0.5))


def by_case(matches):
    return {match.case.id: match.chance for match in matches}


def test_a_case_whose_cause_the_tests_rule_out_falls_behind_one_they_support():
    found = after(HIGH_DROP, matches=MATCHES).reweighed(MATCHES)
    assert [match.case.cause for match in found][0] == CABLE
    chances = by_case(found)
    assert chances["c1"] < 0.6 and chances["c2"] > 0.4 and chances["c3"] == 0.5


def test_without_results_the_cases_stay_as_they_were():
    assert after(matches=MATCHES).reweighed(MATCHES) is MATCHES


def test_a_test_done_on_both_cars_has_counted_already():
    seen = Complaint("", tests=(HIGH_DROP,))
    matches = (past(1, STARTER, chance=0.6, complaint=seen), past(2, STARTER, chance=0.6))
    chances = by_case(after(HIGH_DROP, matches=matches).reweighed(matches))
    assert chances["c1"] == pytest.approx(0.6) and chances["c2"] < 0.6


def test_a_quantity_read_on_both_cars_has_counted_already():
    read = Reading("crank_v", 12.4, "V")
    matches = (
        past(1, CABLE, chance=0.5, complaint=Complaint("", readings=(read,))),
        past(2, CABLE, chance=0.5),
    )
    chances = by_case(after(readings=(read,), matches=matches).reweighed(matches))
    assert chances["c1"] == pytest.approx(0.5) and chances["c2"] > 0.5


@pytest.mark.parametrize(
    "more",
    [
        {"parts": (PartTried("starting.starter", "maker", "no change"),)},
        {"objections": (Objected(STARTER, "not on this car"),)},
    ],
)
def test_parts_and_objections_count_too_and_the_change_is_bounded(more):
    chance = by_case(after(matches=MATCHES, **more).reweighed(MATCHES))["c1"]
    assert 0.6 / 0.4 / 50.1 <= chance / (1.0 - chance) < 0.25 * 0.6 / 0.4


def test_a_part_shown_by_a_test_lifts_the_cases_that_had_it():
    drain, flat = "body_elec.accessory.drain", Complaint("", symptoms=("batt_flat_overnight",))
    shown = TestDone("draw_fuse", "found", part=drain)
    matches = (past(1, "charging.battery.weak", chance=0.6), past(2, drain, chance=0.3))
    found = after(shown, complaint=flat, matches=matches).reweighed(matches)
    assert found[0].case.id == "c2" and found[0].chance > 0.7


@given(
    st.lists(st.tuples(st.sampled_from(sorted(TRADE.causes)), st.floats(0.001, 0.99)), max_size=6),
    st.sampled_from(["ok", "high"]),
)
def test_every_case_stays_with_a_chance_inside_its_bounds_and_in_order(drawn, outcome):
    matches = tuple(past(n, cause, chance=chance) for n, (cause, chance) in enumerate(drawn))
    found = after(TestDone("crank_drop_neg", outcome), complaint=CLICK, matches=matches).reweighed(matches)
    assert {match.case.id for match in found} == {match.case.id for match in matches}
    chances = [match.chance for match in found]
    assert chances == sorted(chances, reverse=True)
    assert all(0.001 <= chance <= 0.99 for chance in chances)


def test_of_two_equally_alike_cases_the_one_with_the_likelier_cause_comes_first():
    answer = after(HIGH_DROP, matches=MATCHES)
    alike = tuple(match._replace(chance=0.4) for match in MATCHES)
    found = answer.drawn(alike)
    chances = [answer.chance(match.case.cause) for match in found if match.case.cause]
    assert chances == sorted(chances, reverse=True) and len(set(chances)) > 1
    assert all(0.0 < match.chance < 1.0 for match in found)
    assert answer.drawn(()) == ()
