"""Parts fitted, repairs done and objections: what they leave of a cause."""

import pytest
from tests.kb.causes_asked import ABS_LAMP, CLICK, SENSOR, STARTER, after, chances, total

from baylore_kb.causes.objected import FACTORS
from baylore_kb.causes.tried import ELSEWHERE, ELSEWHERE_COMES_AND_GOES, SOURCES
from baylore_kb.values import Complaint, Objected, PartTried, RepairTried, TestDone

CLAMP = "charging.terminal.corroded"
DRAIN = "body_elec.accessory.drain"
BAD_SENSOR = (
    TestDone("wss_signal", "bad_both"),
    TestDone("ring_look", "ok"),
    TestDone("wheel_speeds", "dead"),
)
FLAT = Complaint("", symptoms=("batt_flat_overnight",))
SHOWN = TestDone("draw_fuse", "found", part=DRAIN)


def starter(source, result):
    return (PartTried("starting.starter", source, result),)


def sensor(source, result):
    return (PartTried("abs_stab.sensor", source, result),)


def kinds(found):
    return [conflict.kind for conflict in found.conflicts]


def test_a_cleaned_clamp_that_changed_nothing_is_hardly_the_cause():
    assert after(repairs=(RepairTried(CLAMP, "no change"),)).chance(CLAMP) < 0.2 * after().chance(CLAMP)


def test_a_repair_that_cured_raises_its_cause_and_one_that_helped_keeps_it():
    before = after().chance(CLAMP)
    cured, partly = (after(repairs=(RepairTried(CLAMP, r),)).chance(CLAMP) for r in ("cured", "partly"))
    assert cured > 5.0 * before
    assert before < partly < cured


def test_a_repair_speaks_of_its_own_cause_only_and_an_unknown_one_of_nothing():
    found = chances(after(repairs=(RepairTried("own.never_heard_of", "no change"),)))
    assert found == pytest.approx(chances(after()))


@pytest.mark.parametrize("result", ["no change", "partly", "failed later", "cured"])
def test_a_part_without_a_result_or_of_no_listed_component_says_nothing(result):
    plain = chances(after())
    assert chances(after(parts=starter("maker", None))) == pytest.approx(plain)
    assert chances(after(parts=(PartTried("starting.flux", "used", result),))) == pytest.approx(plain)


def test_a_cheap_copy_that_half_works_leaves_its_cause_leading_as_a_poor_part():
    found = after(*BAD_SENSOR, complaint=ABS_LAMP, parts=sensor("aftermarket", "partly"))
    assert found.causes[0].cause == SENSOR and found.causes[0].probability > 0.5
    assert kinds(found) == ["part"]
    assert "maker's part" in found.conflicts[0].remedy


def test_a_makers_part_that_half_works_points_at_a_second_fault():
    found = after(*BAD_SENSOR, complaint=ABS_LAMP, parts=sensor("maker", "partly"))
    assert found.chance(SENSOR) < 0.3
    assert kinds(found) == ["two faults"]
    assert found.conflicts[0].steps == ("abs_stab.sensor",)


def test_a_part_proved_bad_and_replaced_in_vain_is_taken_out_and_the_rest_starts_again():
    before = after(*BAD_SENSOR, complaint=ABS_LAMP)
    found = after(*BAD_SENSOR, complaint=ABS_LAMP, parts=sensor("maker", "no change"))
    assert before.causes[0].cause == SENSOR and before.chance(SENSOR) > 0.7
    assert found.causes[0].cause != SENSOR and found.chance(SENSOR) < 0.15
    assert kinds(found) == ["two faults"] and "proved bad" in found.conflicts[0].text
    assert total(found) == pytest.approx(1.0)


def test_what_spoke_through_the_mended_fault_counts_less_for_what_is_left():
    module = "abs_stab.module.broken"
    replaced = after(*BAD_SENSOR, complaint=ABS_LAMP, parts=sensor("maker", "no change"))
    objected = after(*BAD_SENSOR, complaint=ABS_LAMP, objections=(Objected(SENSOR, "proved good"),))
    assert replaced.chance(module) > 2.0 * objected.chance(module)


def test_a_part_a_test_showed_is_no_longer_settled_once_mending_it_changed_nothing():
    shown = after(SHOWN, complaint=FLAT)
    mended = after(SHOWN, complaint=FLAT, repairs=(RepairTried(DRAIN, "no change"),))
    assert shown.settled == DRAIN and mended.settled is None
    assert mended.chance(DRAIN) < 0.5 < 0.9 < shown.chance(DRAIN)
    assert kinds(mended) == ["two faults"]


def test_an_unproved_part_that_changed_nothing_is_no_conflict():
    assert after(parts=starter("aftermarket", "no change")).conflicts == ()


def test_a_copy_that_half_worked_is_forgotten_once_another_cured():
    parts = sensor("aftermarket", "partly") + sensor("maker", "cured")
    assert after(*BAD_SENSOR, complaint=ABS_LAMP, parts=parts).conflicts == ()


def test_a_copy_that_failed_later_speaks_for_its_place_and_a_makers_part_against():
    before = after().chance(STARTER)
    copy, maker = (after(parts=starter(s, "failed later")).chance(STARTER) for s in ("aftermarket", "maker"))
    assert copy > before > maker


def test_a_part_that_failed_later_is_told_by_where_it_came_from():
    copy, maker = (after(parts=starter(s, "failed later")).conflicts for s in ("aftermarket", "maker"))
    assert [c.kind for c in (*copy, *maker)] == ["part", "part"]
    assert "maker's part" in copy[0].remedy and "spoils it" in maker[0].remedy


def test_a_cure_of_a_fault_that_comes_and_goes_says_less():
    steady, away = (after(parts=starter("maker", "cured"), comes_and_goes=flag) for flag in (False, True))
    assert after().chance(STARTER) < away.chance(STARTER) < steady.chance(STARTER)


def test_the_chances_of_what_parts_do_are_chances():
    for worth in SOURCES.values():
        assert sum(worth) + worth.works == pytest.approx(1.0) and min(worth) >= 0 < worth.works
    for usual in (ELSEWHERE, ELSEWHERE_COMES_AND_GOES):
        assert sum(usual.values()) == pytest.approx(1.0)


@pytest.mark.parametrize("because", FACTORS)
def test_an_objection_lowers_its_cause_but_to_nothing_only_when_it_is_not_on_the_car(because):
    before = after().chance(STARTER)
    found = after(objections=(Objected(STARTER, because),)).chance(STARTER)
    assert found < 0.7 * before
    assert (found < 1e-5) == (because == "not on this car")


def test_an_objection_to_a_renewed_part_holds_for_its_other_failures_too():
    drag = "starting.starter.drag"
    assert after(objections=(Objected(STARTER, "already renewed"),)).chance(drag) < after().chance(drag)
    assert after(objections=(Objected(STARTER, "does not fit"),)).chance(drag) > after().chance(drag)


def test_the_same_objection_twice_counts_once_and_the_stronger_reason_wins():
    once = after(objections=(Objected(STARTER, "proved good"),))
    twice = after(
        objections=(Objected(STARTER, "already renewed"), Objected("starting.starter.drag", "proved good"))
    )
    assert chances(twice) == pytest.approx(chances(once))


def test_an_objection_counts_against_a_part_a_test_showed_and_is_told():
    good = Objected(DRAIN, "proved good")
    found = after(SHOWN, complaint=FLAT, objections=(good,))
    assert found.chance(DRAIN) < 0.8 < after(SHOWN, complaint=FLAT).chance(DRAIN)
    assert kinds(found) == ["outcome"] and "take the objection back" in found.conflicts[0].remedy
    gone = after(SHOWN, complaint=FLAT, objections=(Objected(DRAIN, "not on this car"),))
    assert gone.settled is None and gone.chance(DRAIN) < 1e-3


def test_objections_to_what_is_not_in_question_say_nothing():
    found = after(objections=(Objected("own.never_heard_of", "not on this car"),))
    assert chances(found) == pytest.approx(chances(after(complaint=CLICK)))
