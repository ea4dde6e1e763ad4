"""The shop's own tests, causes and minutes take part like the listed ones."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb import Complaint, Snapshot, advise
from baylore_kb.tools import tools_for
from baylore_kb.trade import Trade, load
from baylore_kb.trade.own import OwnCause, OwnTest, own_id, shipped_of, with_own
from baylore_kb.values import Case, TestDone

WET = "footwell wet, carpet soaked after rain"
JOINT = OwnCause("own.carpet_joint_corroded", "Carpet joint corroded", "body_elec", ("water_in_body",), 45.0)
PULL = OwnTest("own.pull_carpet", "Pull the carpet, feel the joint", "body_elec", 6.0, (JOINT.id,))


@pytest.fixture(scope="module")
def shipped() -> Trade:
    """The lists as shipped."""
    return load()


@pytest.fixture(scope="module")
def shop(shipped: Trade) -> Trade:
    """The lists with a test and a cause of the shop's own."""
    return with_own(shipped, [PULL], [JOINT])


def chances(answer) -> dict[str, float]:
    """The chance of each named cause."""
    return {row.cause: row.probability for row in answer.causes}


def test_an_own_test_is_offered_and_its_cause_named_at_once(shop: Trade) -> None:
    answer = advise(Complaint(WET), Snapshot.build([], trade=shop))
    assert PULL.id in [row.test for row in answer.tests]
    assert chances(answer)[JOINT.id] > 0.01


def test_what_an_own_test_finds_moves_its_cause(shop: Trade) -> None:
    snapshot = Snapshot.build([], trade=shop)
    before, found, not_found = (
        chances(advise(Complaint(WET, tests=tests), snapshot)).get(JOINT.id, 0.0)
        for tests in ((), (TestDone(PULL.id, "found"),), (TestDone(PULL.id, "not_found"),))
    )
    assert found > 3.0 * before and before > 3.0 * not_found


def test_the_shops_own_results_outweigh_the_usual_chances(shop: Trade) -> None:
    missed = [
        Case(
            str(n),
            Complaint(WET, tests=(TestDone(PULL.id, "not_found"),)),
            "closed",
            cause=JOINT.id,
            verified=True,
        )
        for n in range(12)
    ]
    tests = (TestDone(PULL.id, "not_found"),)
    without = chances(advise(Complaint(WET, tests=tests), Snapshot.build([], trade=shop))).get(JOINT.id, 0.0)
    assert (
        chances(advise(Complaint(WET, tests=tests), Snapshot.build(missed, trade=shop)))[JOINT.id] > without
    )


def test_a_test_that_points_at_several_causes_names_the_part(shipped: Trade) -> None:
    both = replace(PULL, points_at=(JOINT.id, "body_elec.seal.leaking"))
    record = with_own(shipped, [both], [JOINT]).tests[PULL.id]
    assert [outcome.names_part for outcome in record.outcomes] == [True, False]
    assert not with_own(shipped, [PULL], [JOINT]).tests[PULL.id].outcomes[0].names_part


def test_an_own_cause_on_a_listed_part_stands_with_its_like_in_the_listed_tests(shipped: Trade) -> None:
    cable = OwnCause(
        "own.strap",
        "Strap to the bulkhead loose",
        "starting",
        ("click_no_crank",),
        component="starting.ground_cable",
    )
    rows = with_own(shipped, [], [cable]).tests["crank_drop_neg"].likelihood
    home = next(row for row in rows if cable.id in row.causes)
    assert "starting.ground_cable.high_resistance" in home.causes


def test_an_own_cause_is_confirmed_by_the_test_that_points_at_it(shop: Trade) -> None:
    assert shop.causes[JOINT.id].confirm_test == PULL.id


def test_the_shops_minutes_stand_in_the_place_of_the_listed_ones(shipped: Trade) -> None:
    test = with_own(shipped, minutes={"crank_drop_neg": 4.0}).tests["crank_drop_neg"]
    assert test.setup_min + test.do_min == 4.0
    assert shipped.tests["crank_drop_neg"].setup_min + shipped.tests["crank_drop_neg"].do_min != 4.0


def test_a_retired_test_is_understood_but_no_longer_offered(shipped: Trade) -> None:
    trade = with_own(shipped, [replace(PULL, retired=True)], [JOINT])
    snapshot = Snapshot.build([], trade=trade)
    assert PULL.id not in [row.test for row in advise(Complaint(WET), snapshot).tests]
    told = advise(Complaint(WET, tests=(TestDone(PULL.id, "found"),)), snapshot)
    assert chances(told)[JOINT.id] > chances(advise(Complaint(WET), snapshot)).get(JOINT.id, 0.0)


def test_names_the_lists_do_not_know_are_passed_over(shipped: Trade) -> None:
    trade = with_own(
        shipped,
        [replace(PULL, points_at=("gone.with.wind",)), replace(PULL, id="own.b", system="nowhere")],
        [
            replace(JOINT, id="own.c", system="nowhere"),
            replace(JOINT, symptoms=("gone",), confirm_test="gone"),
        ],
    )
    assert trade.tests.keys() == shipped.tests.keys()
    assert trade.causes[JOINT.id].symptoms == () and "own.c" not in trade.causes


def test_the_words_of_an_own_cause_name_its_part_and_mode(shop: Trade) -> None:
    assert shop.causes[JOINT.id].mode == "corroded"
    mentioned = tools_for(shop).spotter.mentioned("the carpet joint is green")
    assert [named.component for named in mentioned] == [shop.causes[JOINT.id].component]


def test_every_change_of_the_entries_changes_the_version(shipped: Trade) -> None:
    versions = {
        trade.version
        for trade in (
            shipped,
            with_own(shipped, [PULL], [JOINT]),
            with_own(shipped, [], [JOINT]),
            with_own(shipped, [replace(PULL, minutes=7.0)], [JOINT]),
            with_own(shipped, minutes={"crank_drop_neg": 4.0}),
        )
    }
    assert len(versions) == 5
    assert with_own(shipped, [PULL], [JOINT]).version == with_own(shipped, [PULL], [JOINT]).version


def test_no_entries_leave_the_shipped_lists(shipped: Trade, shop: Trade) -> None:
    assert with_own(shipped) is shipped and with_own(shop) is shipped and shipped_of(shop) is shipped


def test_a_snapshot_with_other_lists_equals_one_built_with_them(shipped: Trade, shop: Trade) -> None:
    cases = [
        Case("a", Complaint(WET), "closed", cause=JOINT.id, cause_title="Carpet joint", verified=True),
        Case("b", Complaint("one click no crank"), "closed", cause="starting.solenoid.worn", verified=True),
    ]
    swapped = Snapshot.build(cases, trade=shipped).with_trade(shop, revision=3)
    fresh = Snapshot.build(cases, trade=shop, revision=3)
    for words in (WET, "carpet joint green", "one click", "pull teh carpet"):
        assert advise(Complaint(words), swapped) == advise(Complaint(words), fresh)


def test_a_snapshot_handed_out_keeps_its_lists(shipped: Trade, shop: Trade) -> None:
    first = Snapshot.build([], trade=shipped)
    before = advise(Complaint(WET), first)
    first.with_trade(shop, revision=1)
    assert advise(Complaint(WET), first) == before


def test_ids_are_the_plain_words() -> None:
    assert own_id("Pull the carpet, feel the joint!") == "own.pull_the_carpet_feel_the_joint"
    assert own_id("Kühler prüfen") == "own.kuhler_prufen"
    assert own_id("  ...  ") == "" and own_id("тест") == own_id("ТЕСТ") != ""


@given(st.text(max_size=300))
def test_any_words_give_an_id_that_can_travel(title: str) -> None:
    found = own_id(title)
    assert found == "" or (re.fullmatch(r"own\.[a-z0-9_]{1,110}", found))
    assert own_id(title) == found
