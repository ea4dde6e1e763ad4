"""Set-up between tests: what it costs to get the car from where it stands to where a test needs it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from baylore_kb.once_each import once_each
from baylore_kb.plan.problem import Floats
from baylore_kb.trade.model import Test, Trade

# Minutes of raising and of lowering a car on a lift; common practice, no published source.
RAISE_MIN, LOWER_MIN = 4.0, 2.0
# Power up again, clock, windows, radio code; and the drive until what was learned is learned again before
# live data mean anything. Common practice, no published source.
RECONNECT_MIN, RELEARN_MIN = 6.0, 10.0
# A test on a cold engine once it has run, and one on a hot engine that stood; common practice, no source.
COOL_DOWN_MIN, WARM_UP_MIN = 20.0, 8.0

# Words of a step that make the temperature matter; "cold then hot" watches both and needs neither first.
_COLD = re.compile(
    r"\bcold (soak|start|level|resistance|fit|pressures?)\b|\bcold engine\b(?! if)"
    r"|\bidle cold\b|\bcold, then hot\b|^cold(?=[,:]|$)",
    re.IGNORECASE,
)
_WARM = re.compile(r"\b(idle warm|fully hot|heater hot|hoses hot)\b|^warm(?=,|$)", re.IGNORECASE)
_LIVE = frozenset(("live data", "live data recording", "data", "diagnostic tool", "tool with commands"))


def setup_minutes(after: Test | None, test: Test, *, warm: bool | None = None) -> float:
    """Minutes of set-up still to pay for `test` after another one; None is a car just driven in.

    Nothing for the same state with tools already at hand; no second raising while the car is up. The way
    back from a disconnected battery is paid with the test that disconnects it, and what was learned is paid
    for where live data follow. `warm` is whether the engine has run here; None judges by the last test.
    """
    whole = _moving(after, test) + _battery(after, test)
    if after is None:
        return whole
    ran = runs(after) if warm is None else warm
    return whole + _temperature(test, ran)


def _moving(after: Test | None, test: Test) -> float:
    if after is None:
        return max(test.setup_min, RAISE_MIN) if test.state.raised else test.setup_min
    if after.state == test.state and set(test.tools) <= set(after.tools):
        return 0.0
    if after.state.raised and test.state.raised and after.state.wheels == test.state.wheels:
        return max(0.0, test.setup_min - RAISE_MIN)
    if test.state.raised and not after.state.raised:
        return max(test.setup_min, RAISE_MIN)
    lower = LOWER_MIN if after.state.raised and not test.state.raised else 0.0
    return test.setup_min + lower


def _battery(after: Test | None, test: Test) -> float:
    was_off = after is not None and disconnects(after)
    if disconnects(test):
        return 0.0 if was_off else RECONNECT_MIN
    return RELEARN_MIN if was_off and needs_memory(test) else 0.0


def _temperature(test: Test, ran: bool) -> float:
    if wants_cold(test):
        return COOL_DOWN_MIN if ran else 0.0
    return WARM_UP_MIN if wants_warm(test) and not ran else 0.0


def runs(test: Test) -> bool:
    """Whether the engine runs long enough in the test to be warm after it."""
    return test.state.key == "engine running"


def disconnects(test: Test) -> bool:
    """Whether the battery is disconnected for the test."""
    return test.state.battery == "disconnected"


def needs_memory(test: Test) -> bool:
    """Whether the test reads what a car forgets without its battery: live data, stored codes, a run."""
    return not disconnects(test) and (not _LIVE.isdisjoint(test.tools) or runs(test))


def wants_cold(test: Test) -> bool:
    """Whether the test asks for a cold engine, by the words of its title and steps."""
    return _said(_COLD, (test.title, *test.steps))


def wants_warm(test: Test) -> bool:
    """Whether a step of the test asks for a warm engine and none for a cold one."""
    return not wants_cold(test) and _said(_WARM, test.steps)


@lru_cache(maxsize=4096)
def _said(words: re.Pattern[str], steps: tuple[str, ...]) -> bool:
    return any(words.search(step) for step in steps)


class Setups:
    """Set-up minutes between the tests of a trade's lists, each reckoned when first asked for."""

    def __init__(self, trade: Trade) -> None:
        self._tests = tuple(trade.tests.values())
        self._at = {test.id: place for place, test in enumerate(self._tests)}
        # after which test (the last row: none), which test, and whether the engine ran: no, yes, not known
        self._minutes = np.full((len(self._tests) + 1, len(self._tests), 3), np.nan)

    def between(
        self, after: Sequence[Test | None], tests: Sequence[Test], warm: Sequence[bool | None]
    ) -> Floats:
        """(N, T) `setup_minutes` of each test after each of N; `warm` (N) as there."""
        rows = np.array([-1 if done is None else self._at[done.id] for done in after], dtype=np.intp)
        columns = np.array([self._at[test.id] for test in tests], dtype=np.intp)
        ran = np.array([2 if known is None else int(known) for known in warm], dtype=np.intp)
        found = self._minutes[rows[:, None], columns, ran[:, None]]
        for row, column in zip(*np.nonzero(np.isnan(found)), strict=True):
            found[row, column] = setup_minutes(after[row], tests[column], warm=warm[row])
        self._minutes[rows[:, None], columns, ran[:, None]] = found
        return np.asarray(found)

    def table(self, now: Test | None, tests: Sequence[Test], *, warm: bool | None = None) -> Floats:
        """(1 + T, T) set-up minutes of each test from where the car is now (row 0) and after each test.

        `warm` is whether the engine has run in an earlier test; a test that runs it warms it in any case.
        """
        return self.between([now, *tests], tests, [warm, *(warm or runs(done) for done in tests)])


@once_each
def setups_of(trade: Trade) -> Setups:
    """The set-up minutes between the tests of these lists, kept for each loaded trade."""
    return Setups(trade)


def setup_words(test: Test) -> str:
    """The state the car must be in, in words: "key on", "engine running, on the lift"."""
    key = test.state.key if test.state.key.startswith("engine") else f"key {test.state.key}"
    words = ["cranking" if test.state.key == "cranking" else key]
    if wants_cold(test):
        words.append("engine cold first")
    if test.state.raised:
        words.append("on the lift")
    if disconnects(test):
        words.append("battery disconnected")
    if test.state.wheels == "off":
        words.append("wheels off")
    return ", ".join(words)
