"""What follows from readings of one case together: subcooling, resistance, charge, total trim."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace

from baylore_kb.readings.judge import judge
from baylore_kb.readings.lent import with_lent
from baylore_kb.readings.worked.electric import (
    charge_left,
    coil_currents,
    drop_resistances,
    fuse_draws,
    standing_hours,
)
from baylore_kb.readings.worked.engine import compression_evenness, filling, total_trims
from baylore_kb.readings.worked.gathered import Follows, Gathered, gathered
from baylore_kb.readings.worked.heat import subcooling, superheat
from baylore_kb.trade.model import Trade
from baylore_kb.values import Judged, Reading

RECIPES: tuple[Callable[[Gathered], Iterable[Follows]], ...] = (
    subcooling,
    superheat,
    charge_left,
    standing_hours,
    drop_resistances,
    fuse_draws,
    coil_currents,
    total_trims,
    compression_evenness,
    filling,
)


def derive(judged: Sequence[Judged], trade: Trade) -> tuple[Judged, ...]:
    """What the readings of one case say together, judged; `why` names its inputs, `of` their quantities.

    Before and after the correction are kept apart. Implausible readings count for nothing, and what
    was measured is not worked out again. Empty for nothing that follows.
    """
    measured = [[one for one in judged if one.reading.when == when] for when in ("before", "after")]
    found = [
        follows.judged(trade) for ones in measured if ones for follows in _follows(gathered(ones, trade))
    ]
    return tuple(one for one in found if one.verdict != "implausible")


def _follows(held: Gathered) -> Iterator[Follows]:
    for recipe in RECIPES:
        yield from (each for each in recipe(held) if _new(each, held))


def _new(follows: Follows, held: Gathered) -> bool:
    return math.isfinite(follows.value) and follows.quantity not in held.by_quantity


def judge_all(readings: Iterable[Reading], trade: Trade) -> tuple[Judged, ...]:
    """The readings of one case judged, in step, and after them what they say together.

    A lasting condition (air, refrigerant, displacement) said at one reading holds for the others;
    each reading itself stays as it was typed. Raises as `judge` does.
    """
    typed = tuple(readings)
    judged = tuple(judge(reading, trade) for reading in with_lent(typed, trade))
    kept = tuple(replace(one, reading=reading) for one, reading in zip(judged, typed, strict=True))
    return (*kept, *derive(kept, trade))
