"""Each leading cause says what moved it, and by how much."""

import pytest
from tests.kb.causes_asked import ABS_LAMP, CABLE, SENSOR, STARTER, TRADE, after, past, row
from tests.kb.invented_shop import shop_of

from baylore_kb.values import Case, Complaint, Objected, PartTried, Reading, RepairTried, TestDone, Vehicle


def said(found, cause):
    return {moved.by: moved.factor for moved in row(found, cause).moved}


def odds(found, cause):
    return found.chance(cause) / (1.0 - found.chance(cause))


def test_a_test_outcome_is_told_with_the_change_of_odds_it_made():
    found, without = after(TestDone("crank_drop_neg", "high")), after()
    by = f"{TRADE.tests['crank_drop_neg'].title}: high"
    assert said(found, CABLE)[by] == pytest.approx(odds(found, CABLE) / odds(without, CABLE))
    assert said(found, STARTER)[by] < 1.0


def test_a_symptom_heard_is_told_by_its_title():
    moved = said(after(), STARTER)
    assert moved[f"Symptom: {TRADE.symptoms['no_crank_click'].title}"] > 5.0


def test_the_shops_cases_are_told_together_and_by_number():
    found = after(matches=[past(n, CABLE) for n in range(4)])
    assert said(found, CABLE)["4 of your cases"] > 3.0
    assert said(found, STARTER)["Your like cases had other causes"] < 0.9


def test_the_habits_of_the_shop_are_told_apart_from_the_cases():
    cases = [Case(f"c{n}", Complaint(""), "closed", cause=CABLE, verified=True) for n in range(12)]
    assert said(after(shop=shop_of(cases)), CABLE)["How often this shop sees it"] > 2.0


def test_a_code_and_a_part_named_in_the_words_are_told():
    coded = said(after(complaint=Complaint("", codes=("C0035", "P0301"))), SENSOR)
    assert coded["Code C0035"] > 1.5
    moved = said(after(complaint=Complaint("wheel speed sensor")), SENSOR)
    assert moved[f"Named: {TRADE.components['abs_stab.sensor'].title}"] > 1.2


def test_codes_that_say_the_same_are_told_as_one():
    asked = Complaint("", codes=("C0035", "C0040"))
    assert "Code C0035, C0040" in said(after(complaint=asked), SENSOR)


def test_a_trait_the_car_has_not_lifts_what_is_left():
    asked = Complaint("", Vehicle(engine="2.0 diesel"), symptoms=("misfire_load",))
    moved = [each.by for cause in after(complaint=asked).causes[:3] for each in cause.moved]
    assert f"Car without: {TRADE.traits['petrol']}" in moved


def test_a_reading_is_told_with_its_value():
    found = after(readings=(Reading("crank_v", 12.4, "V"),))
    assert (
        said(found, STARTER)[
            f"{TRADE.quantities['crank_v'].title} 12.4 V: stays above 12.2, starter draws nothing"
        ]
        > 1.2
    )


@pytest.mark.parametrize(
    ("more", "by"),
    [
        ({"parts": (PartTried("starting.starter", "maker", "cured"),)}, "New Starter motor (maker): cured"),
        ({"repairs": (RepairTried(STARTER, "no change"),)}, "Repair without a part, {}: no change"),
        ({"objections": (Objected(STARTER, "proved good"),)}, "{}: proved good, as objected"),
    ],
)
def test_what_was_fitted_done_or_objected_is_told(more, by):
    assert by.format(TRADE.causes[STARTER].title) in said_anywhere(after(**more))


def said_anywhere(found):
    return {moved.by for cause in found.causes for moved in cause.moved}


def test_the_strongest_come_first_and_what_hardly_moved_is_left_out():
    tests = [
        TestDone(*each.split(":")) for each in ("crank_drop_neg:high", "crank_v_test:high", "batt_test:ok")
    ]
    for cause in after(*tests).causes[:12]:
        strength = [max(moved.factor, 1.0 / moved.factor) for moved in cause.moved]
        assert strength == sorted(strength, reverse=True)
        assert len(strength) <= 5 and all(each > 1.05 for each in strength)


def test_only_the_leading_causes_are_explained():
    found = after()
    assert any(cause.moved for cause in found.causes[:12])
    assert not any(cause.moved for cause in found.causes[12:])


def test_two_tests_of_one_circuit_do_not_both_claim_the_whole_move():
    bad, dead = TestDone("wss_signal", "bad_both"), TestDone("wheel_speeds", "dead")
    none, one, both = (after(*tests, complaint=ABS_LAMP) for tests in ((), (bad,), (bad, dead)))
    alone = odds(one, SENSOR) / odds(none, SENSOR)
    told = next(f for by, f in said(both, SENSOR).items() if by.startswith(TRADE.tests["wss_signal"].title))
    assert 1.0 < told < alone


def test_the_cases_that_speak_for_a_cause_are_named_most_telling_first():
    found = after(matches=[past(n, CABLE, chance=0.2 + 0.05 * n, verified=n != 11) for n in range(12)])
    speaking = row(found, CABLE)
    assert speaking.from_cases[0] == "c10" and len(speaking.from_cases) == 10
    assert speaking.from_words == "12 of your cases"
    assert row(found, STARTER).from_cases == ()


def test_a_case_that_is_hardly_alike_does_not_speak():
    found = row(after(matches=[past(1, CABLE, chance=0.05)]), CABLE)
    assert (found.from_cases, found.from_words) == ((), "trade knowledge")
