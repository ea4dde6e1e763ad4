"""A shop's own tuning: tried on its cases, kept with its losses, used where it did better."""

from __future__ import annotations

import threading
from unittest.mock import patch

import pytest
from tests.service.house_fixtures import Clock, a_case

from baylore_kb.advice import SHIPPED_TUNING, Tuning
from baylore_kb.index import Snapshot
from baylore_kb.tuning import Trial
from baylore_kb.values import Complaint
from baylore_service.desk import advise, close, feed, tuning
from baylore_service.desk.house import House
from baylore_service.errors import Busy, WrongRole
from baylore_service.jobs.rounds import tune_due
from baylore_service.store import tunings
from baylore_service.store.records import Actor, Closing

COLD = Tuning(temperature=1.7)
BETTER = Trial(COLD, 60, 2.0, 1.8, adopted=True)
WORSE = Trial(SHIPPED_TUNING, 60, 2.0, 2.1, adopted=False)


def trying(found: Trial):
    """Trials that find this."""
    return patch("baylore_service.desk.tuning.trial", return_value=found)


def close_some(house: House, actor: Actor, count: int) -> None:
    """So many more closed cases."""
    causes = ("starting.solenoid.worn", "starting.ground_cable.high_resistance")
    for n in range(count):
        case = a_case(house, actor, f"one click and nothing, job {n}")
        close.close_case(house, actor, case.id, Closing(cause=causes[n % 2], verified=True))


def used(house: House, actor: Actor) -> Tuning:
    """The tuning questions are answered with."""
    return house.hosts.host(actor.shop.id).mind().tuning


def test_a_better_tuning_is_used_from_the_next_question_on(house: House, boss: Actor) -> None:
    close_some(house, boss, 4)
    question = Complaint("one click and nothing")
    before = advise.advise(house, boss, question)
    with trying(BETTER):
        tried = tuning.tune(house, boss.shop.id)
    after = advise.advise(house, boss, question)
    assert used(house, boss) == COLD and tuning.last_trial(house, boss) == tried
    assert after.causes[0].probability < before.causes[0].probability


def test_another_process_uses_it_too(house: House, boss: Actor) -> None:
    other = House.open(house.settings, clock=house.now)
    assert used(other, boss) == SHIPPED_TUNING
    with trying(BETTER):
        tuning.tune(house, boss.shop.id)
    assert used(other, boss) == COLD
    other.close()


def test_a_tuning_that_is_no_better_is_kept_but_not_used(house: House, boss: Actor) -> None:
    latest = feed.revision(house, boss)
    with trying(WORSE):
        tried = tuning.tune(house, boss.shop.id)
    assert not tried.adopted and used(house, boss) == SHIPPED_TUNING
    assert feed.revision(house, boss) == latest


def test_the_last_trial_decides(house: House, boss: Actor) -> None:
    for found in (BETTER, WORSE):
        with trying(found):
            tried = tuning.tune(house, boss.shop.id)
    assert tried.version == 2 and used(house, boss) == SHIPPED_TUNING


def test_a_real_trial_of_few_cases_leaves_the_shipped_tuning(house: House, boss: Actor) -> None:
    close_some(house, boss, 3)
    tried = tuning.tune(house, boss.shop.id)
    assert (tried.closed, tried.adopted, tried.shipped_loss) == (3, False, None)


def test_the_last_twenty_trials_are_kept(house: House, boss: Actor) -> None:
    for _ in range(23):
        with trying(BETTER):
            tuning.tune(house, boss.shop.id)
    with house.store.read() as work:
        assert tunings.count(work, boss.shop.id) == 20
    assert used(house, boss) == COLD


def test_a_tuning_of_another_engine_gives_the_shipped_one(house: House, boss: Actor) -> None:
    with trying(BETTER), patch("baylore_service.desk.tuning.as_document", return_value={"weights": {}}):
        tuning.tune(house, boss.shop.id)
    assert used(house, boss) == SHIPPED_TUNING


def test_two_processes_do_not_try_at_once(house: House, boss: Actor) -> None:
    other = House.open(house.settings, clock=house.now)
    going, go_on = threading.Event(), threading.Event()

    def slow(snapshot: Snapshot) -> Trial:
        going.set()
        assert go_on.wait(10)
        return BETTER

    with patch("baylore_service.desk.tuning.trial", slow):
        first = threading.Thread(target=tuning.tune, args=(house, boss.shop.id))
        first.start()
        assert going.wait(10)
        with pytest.raises(Busy):
            tuning.tune(other, boss.shop.id)
        go_on.set()
        first.join()
    with trying(WORSE):
        assert tuning.tune(other, boss.shop.id).version == 2
    other.close()


def test_a_claim_of_a_dead_process_runs_out(house: House, boss: Actor, clock: Clock) -> None:
    with patch("baylore_service.desk.tuning.claims.release"), trying(WORSE):
        tuning.tune(house, boss.shop.id)
        with pytest.raises(Busy):
            tuning.tune(house, boss.shop.id)
        clock.wait(minutes=31)
        assert tuning.tune(house, boss.shop.id).version == 2


def test_a_trial_is_due_when_enough_was_closed_and_not_too_soon(
    house: House, boss: Actor, clock: Clock
) -> None:
    close_some(house, boss, 49)
    assert not tuning.due(house, boss.shop.id)
    close_some(house, boss, 1)
    assert tuning.due(house, boss.shop.id)
    with trying(WORSE):
        tuning.tune(house, boss.shop.id)
    clock.wait(hours=2)
    assert not tuning.due(house, boss.shop.id)
    close_some(house, boss, 5)
    assert tuning.due(house, boss.shop.id)
    with trying(WORSE):
        tuning.tune(house, boss.shop.id)
    close_some(house, boss, 6)
    assert not tuning.due(house, boss.shop.id)


def test_the_rounds_try_what_is_due(house: House, boss: Actor) -> None:
    close_some(house, boss, 50)
    with trying(BETTER):
        tune_due(house)
    assert used(house, boss) == COLD


def test_a_shop_whose_trial_fails_does_not_hold_up_the_others(
    house: House, boss: Actor, stranger: Actor
) -> None:
    for actor in (boss, stranger):
        close_some(house, actor, 50)
    with patch("baylore_service.desk.tuning.trial", side_effect=[Busy("not now"), BETTER]):
        tune_due(house)
    assert [used(house, actor) for actor in (boss, stranger)] == [SHIPPED_TUNING, COLD]


def test_only_managers_see_the_tuning(house: House, tech: Actor) -> None:
    with pytest.raises(WrongRole):
        tuning.last_trial(house, tech)
