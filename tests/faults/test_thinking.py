"""The line before long reckoning has an end."""

from __future__ import annotations

from threading import Event
from time import sleep

import pytest

from baylore_service.desk.thinking import Thinkers
from baylore_service.errors import Overloaded


def test_things_are_reckoned_one_by_one_in_the_order_they_came() -> None:
    thinkers, seen = Thinkers(10, 60), list[int]()
    for each in [thinkers.think(lambda n=n: seen.append(n)) for n in range(8)]:  # type: ignore[misc]
        each.result()
    assert seen == list(range(8)) and (thinkers.waiting, thinkers.refused) == (0, 0)


def test_who_finds_the_line_full_is_told_when_to_come_again() -> None:
    thinkers, go = Thinkers(2, 60), Event()
    going = [thinkers.think(go.wait) for _ in range(3)]
    with pytest.raises(Overloaded) as refused:
        thinkers.think(go.wait)
    assert refused.value.wait_s >= 1 and thinkers.refused == 1
    go.set()
    assert [each.result() for each in going] == [True] * 3
    assert thinkers.think(lambda: "next").result() == "next"


def test_the_wait_told_grows_with_what_one_takes_and_with_the_line() -> None:
    thinkers, go = Thinkers(100, 60), Event()
    thinkers.mean_s = 2.0
    going = [thinkers.think(go.wait) for _ in range(10)]
    assert thinkers.wait_s() == 10
    go.set()
    for each in going:
        each.result()


def test_nobody_is_let_in_who_would_wait_too_long() -> None:
    thinkers, go = Thinkers(100, 7), Event()
    thinkers.mean_s = 2.0
    going = [thinkers.think(go.wait) for _ in range(5)]
    with pytest.raises(Overloaded):
        thinkers.think(go.wait)
    go.set()
    assert [each.result() for each in going] == [True] * 5


def test_who_waited_too_long_all_the_same_is_not_answered_any_more() -> None:
    thinkers, go = Thinkers(100, 0.05), Event()
    thinkers.mean_s = 0.0
    going, late = thinkers.think(go.wait), thinkers.think(lambda: "late")
    sleep(0.1)
    go.set()
    assert going.result()
    with pytest.raises(Overloaded):
        late.result()
    assert thinkers.think(lambda: thinkers.waiting).result() == 1


def test_one_that_is_given_up_or_fails_leaves_the_line() -> None:
    thinkers, go = Thinkers(5, 60), Event()
    first, second, third = thinkers.think(go.wait), thinkers.think(int), thinkers.think(lambda: 1 // 0)
    assert second.cancel()
    go.set()
    with pytest.raises(ZeroDivisionError):
        third.result()
    assert first.result() and thinkers.think(lambda: thinkers.waiting).result() == 1


def test_at_the_end_the_one_being_reckoned_is_finished_and_nothing_more_is_taken() -> None:
    thinkers, go = Thinkers(5, 60), Event()
    going, waiting = thinkers.think(go.wait), thinkers.think(int)
    thinkers.close()
    go.set()
    assert going.result() and waiting.cancelled()
    with pytest.raises(Overloaded):
        thinkers.think(int)
