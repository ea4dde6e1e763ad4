"""Past cases are ranked by the chance of the same cause, with reasons a member can read."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from made_cases import Maker
from sklearn.metrics import log_loss

from baylore_kb.features import NAMES
from baylore_kb.fit import FEWEST_CASES, learned, pairs
from baylore_kb.heldout import asked_of_others
from baylore_kb.index import Snapshot
from baylore_kb.match import SHIPPED, fit, matches
from baylore_kb.question import understand
from baylore_kb.readinglikeness import closeness
from baylore_kb.trade import load
from baylore_kb.values import Case, Complaint, Reading, TestDone, Vehicle
from baylore_kb.vehicle import LEVELS

LINNET = Vehicle(2009, "Tarrow", "Linnet", "2.0 petrol")


def closed(name, text, *, cause, vehicle=LINNET, **more):
    return Case(name, Complaint(text, vehicle, **more), "closed", cause=cause, verified=True)


def ranked(cases, complaint):
    snapshot = Snapshot.build(cases)
    question = understand(complaint, snapshot)
    return matches(question, snapshot.candidates(question), snapshot)


def test_a_sloppy_complaint_finds_the_clutch_gap_of_the_same_model():
    text = "cold for about twenty minutes, then hot until I let the car cool down. Had it gassed last month"
    past = closed("gap", text, cause="aircon.clutch.worn", symptoms=("cold_then_warm",))
    others = Maker(load(), seed=3).cases(60)
    top = ranked([past, *others], Complaint("ac cold thn warm 20 min", replace(LINNET, year=2011)))[:3]
    assert "gap" in [match.case.id for match in top]
    why = next(match.why for match in top if match.case.id == "gap")
    assert "same model" in why.vehicle
    assert "cold" in why.words


def test_a_car_that_half_the_shop_works_on_says_less_than_a_rare_one():
    dimmed = [closed(f"l{n}", "lights dim", cause="charging.alternator.weak") for n in range(12)]
    rare = Vehicle(2009, "Ondrey", "Calla", "1.4 petrol")
    one = closed("one", "lights dim", cause="charging.alternator.weak", vehicle=rare)
    usual, seldom = (
        {match.case.id: match.chance for match in ranked([*dimmed, one], Complaint("lights dim", car))}
        for car in (LINNET, rare)
    )
    assert usual["l0"] > usual["one"] and seldom["one"] > seldom["l0"]
    assert seldom["one"] > usual["l0"]


def test_in_a_shop_of_one_case_its_car_and_its_symptom_still_say_much():
    only = closed("only", "no heat", cause="cooling.thermostat.stuck_open", symptoms=("no_heat",))
    (found,) = ranked([only], Complaint("blows cold in winter", LINNET, symptoms=("no_heat",)))
    (other,) = ranked([only], Complaint("blows cold in winter", Vehicle(2001, "Ondrey", "Calla")))
    assert found.chance > 0.2 > other.chance


def test_a_rare_code_with_the_same_reading_outranks_ten_cases_with_the_same_words():
    reading = Reading("batt_rest", 11.3, "V")
    same_words = [
        closed(f"w{n}", "radio resets itself", cause="body_elec.fuse_box.corroded") for n in range(10)
    ]
    coded = closed(
        "code", "clock wrong", cause="charging.battery.weak", codes=("B1342",), readings=(reading,)
    )
    asked = Complaint(
        "radio resets itself", LINNET, codes=("B1342",), readings=(replace(reading, value=11.35),)
    )
    best = ranked([*same_words, coded], asked)[0]
    assert best.case.id == "code"
    assert best.why.codes == ("B1342",)
    assert best.why.readings


def test_an_identical_story_on_the_same_car_is_likely_though_its_cause_is_the_shops_own():
    text = "rear washer runs by itself when the heated screen is on"
    others = Maker(load(), seed=4).cases(40)
    best = ranked([closed("own", text, cause="own.wet_joint"), *others], Complaint(text, LINNET))[0]
    assert best.case.id == "own"
    assert best.chance > 0.5
    assert "heated screen" in best.why.words


def test_a_contradicting_test_lowers_the_chance():
    test = next(t for t in load().tests.values() if t.id == "ac_clutch_gap_check")
    one, other = (outcome.id for outcome in test.outcomes[:2])
    cases = [
        closed("agrees", "ac warm", cause="aircon.clutch.worn", tests=(TestDone(test.id, one),)),
        closed("differs", "ac warm", cause="aircon.clutch.worn", tests=(TestDone(test.id, other),)),
    ]
    found = ranked(cases, Complaint("ac warm", LINNET, tests=(TestDone(test.id, one),)))
    assert [match.case.id for match in found] == ["agrees", "differs"]
    assert found[0].why.tests and not found[1].why.tests


def test_a_test_made_while_the_fault_was_away_contradicts_nothing():
    test = "ac_clutch_gap_check"
    outcomes = [outcome.id for outcome in load().tests[test].outcomes[:2]]
    past = closed("c", "ac warm", cause="aircon.clutch.worn", tests=(TestDone(test, outcomes[1]),))
    here = ranked([past], Complaint("ac warm", LINNET, tests=(TestDone(test, outcomes[0]),)))
    away = ranked(
        [past], Complaint("ac warm", LINNET, tests=(TestDone(test, outcomes[0], fault_present=False),))
    )
    assert away[0].chance > here[0].chance


def test_ties_are_broken_by_case_id_and_nothing_gives_nothing():
    twins = [closed(name, "belt squeal", cause="own.x") for name in ("b", "a")]
    assert [match.case.id for match in ranked(twins, Complaint("belt squeal"))] == ["a", "b"]
    assert ranked([], Complaint("belt squeal")) == ()


@pytest.mark.parametrize(
    ("a", "b", "tolerance", "scale", "expected"),
    # direct formula exp(-((|a-b|-tol)/scale)^2), worked by hand
    [(12.45, 12.38, 0.05, 0.2, 0.99004983), (35, 60, 5, 20, 0.36787944), (185, 182, 5, 10, 1.0)],
)
def test_values_are_alike_inside_the_tolerance_and_fade_beyond(a, b, tolerance, scale, expected):
    assert closeness(a, b, tolerance=tolerance, scale=scale) == pytest.approx(expected, abs=1e-7)


SHARES = st.lists(st.floats(0, 1), min_size=len(NAMES), max_size=len(NAMES))


@given(SHARES, st.integers(0, len(NAMES) - 1), st.floats(0, 1))
def test_sharing_more_never_lowers_the_chance(shares, place, more):
    signs = np.array([-1.0 if name.endswith("_apart") else 1.0 for name in NAMES])
    fewer, larger = sorted((shares[place], more))
    rows = [[*shares[:place], value, *shares[place + 1 :]] for value in (fewer, larger)]
    low, high = SHIPPED.chances(np.array(rows) * signs)
    assert high <= low if NAMES[place].endswith("_apart") else low <= high
    assert 0 < low < 1


def test_a_young_shop_keeps_the_shipped_weights():
    snapshot = Snapshot.build(Maker(load(), seed=9).cases(FEWEST_CASES - 1))
    assert fit(snapshot) is SHIPPED


def test_a_shop_with_enough_cases_gets_weights_of_its_own_that_fit_it_better():
    cases = Maker(load(), seed=11).cases(120)
    snapshot = Snapshot.build(cases)
    fitted = fit(snapshot)
    assert fitted.cases == 120
    assert min(fitted.weights) >= 0
    rows, same = pairs(asked_of_others(snapshot, cases))
    own, shipped = (log_loss(same, weights.chances(rows)) for weights in (fitted, SHIPPED))
    assert own <= shipped


def rows_of(**shared):
    """A row of features with only these shared."""
    return [shared.get(name, 0.0) for name in NAMES]


def test_what_a_shop_has_never_met_stays_as_shipped():
    rows = np.array([rows_of(cosine=0.8), rows_of(cosine=0.1)] * 60)
    found = dict(zip(NAMES, learned(rows, np.array([True, False] * 60))[1:], strict=True))
    shipped = dict(zip(NAMES, SHIPPED.weights, strict=True))
    assert found["codes"] == shipped["codes"] and found["car_same"] == shipped["car_same"]
    assert found["cosine"] > shipped["cosine"]


@pytest.mark.parametrize(("follows", "step"), [("engine", "car_engine"), ("model", "car_model")])
def test_a_shop_teaches_how_near_a_car_must_be(follows, step):
    other = rows_of(car_open=1.0, car_make=1.0)
    engine = rows_of(car_open=1.0, car_make=1.0, car_engine=1.0)
    model = rows_of(car_open=1.0, car_make=1.0, car_engine=1.0, car_model=1.0)
    rows = np.array([other, engine, model] * 80)
    same = np.array([False, follows == "engine", True] * 80)
    gained = learned(rows, same)[1:] - np.array(SHIPPED.weights)
    assert NAMES[int(np.argmax(gained))] == step


@given(st.lists(st.booleans(), min_size=30, max_size=30))
@settings(max_examples=20, deadline=None)
def test_no_step_of_nearness_is_ever_learned_to_count_against(same):
    steps = [rows_of(**{f"car_{step}": 1.0 for step in list(LEVELS)[:n]}) for n in range(6)]
    weights = learned(np.array(steps * 5), np.array(same))[1:]
    assert weights.min() >= 0.0
