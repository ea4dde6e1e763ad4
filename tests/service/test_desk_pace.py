"""No device calls so often that others wait for it."""

from __future__ import annotations

import pytest
from tests.service.app_fixtures import Floor

from baylore_service.desk import pace
from baylore_service.desk.pace import Pace
from baylore_service.errors import TooManyCalls


class Seconds:
    """A clock that is set by hand."""

    now = 0.0

    def __call__(self) -> float:
        return self.now


def calls(counted: Pace, device: str) -> int:
    """How many calls a device can make now."""
    for count in range(1000):
        try:
            counted.call(device)
        except TooManyCalls:
            return count
    return 1000


def test_a_device_makes_a_minutes_calls_at_once_and_then_as_many_as_time_gives() -> None:
    clock = Seconds()
    counted = Pace(60, clock=clock)
    assert calls(counted, "one") == 60 and calls(counted, "other") == 60
    clock.now += 5
    assert calls(counted, "one") == 5
    clock.now += 1000
    assert calls(counted, "one") == 60


def test_who_is_refused_is_told_the_wait_and_a_refused_call_does_not_count() -> None:
    clock = Seconds()
    counted = Pace(6, clock=clock)
    calls(counted, "one")
    for _ in range(3):
        with pytest.raises(TooManyCalls) as refused:
            counted.call("one")
        assert refused.value.wait_s == 10
    clock.now += refused.value.wait_s
    counted.call("one")


def test_devices_that_are_quiet_again_are_not_held(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pace, "MOST_HELD", 10)
    clock = Seconds()
    counted = Pace(6, clock=clock)
    for n in range(10):
        counted.call(f"device {n}")
    clock.now += 60
    counted.call("another")
    assert len(counted._left) == 1


def test_a_phone_that_asks_too_often_is_asked_to_wait_and_the_others_are_not(floor: Floor) -> None:
    floor.house.pace = Pace(3)
    asked = [floor.get("/me") for _ in range(4)]
    assert [answer.status_code for answer in asked] == [200, 200, 200, 429]
    assert int(asked[-1].headers["Retry-After"]) >= 1
    assert asked[-1].json()["type"] == "/problems/too-many-calls"
    assert floor.get("/me", who="manager").status_code == 200
