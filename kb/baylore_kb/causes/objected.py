"""What a member's objections say: a cause held to be wrong falls, how far depends on the reason."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from baylore_kb.causes.beliefs import NOT_MENDED_BY_A_PART, Bools
from baylore_kb.causes.columns import Columns
from baylore_kb.causes.evidence import Evidence
from baylore_kb.values import Objected, Objection

# Factors on the chance; common practice, no published source. New parts fail too, and "proved good" may have
# been proved without a load; what is not on the car is out.
FACTORS: dict[Objection, float] = {
    "already renewed": 0.1,
    "proved good": 0.05,
    "not on this car": 1e-6,
    "does not fit": 0.4,
}


def of_objections(objections: Iterable[Objected], columns: Columns) -> list[Evidence]:
    """Each objection once; of several on one part the strongest; a cause not in question says nothing."""
    strongest: dict[str, Objected] = {}
    for each in objections:
        about = _about(each, columns)
        held = strongest.get(about)
        if each.cause in columns.at and (held is None or FACTORS[each.because] < FACTORS[held.because]):
            strongest[about] = each
    return [_said(each, columns) for each in strongest.values()]


def _about(objected: Objected, columns: Columns) -> str:
    """What the reason speaks of: the component where it says something of the part, else the cause."""
    known = columns.beliefs.trade.causes.get(objected.cause)
    by_part = known is not None and known.mode not in NOT_MENDED_BY_A_PART
    of_part = objected.because == "not on this car" or (by_part and objected.because != "does not fit")
    return known.component if known is not None and of_part else objected.cause


def _said(objected: Objected, columns: Columns) -> Evidence:
    label = f"{columns.title(objected.cause)}: {objected.because}, as objected"
    log = np.log(np.where(_hit(objected, columns), FACTORS[objected.because], 1.0))
    return Evidence(label, log, objected=objected)


def _hit(objected: Objected, columns: Columns) -> Bools:
    about = _about(objected, columns)
    if about == objected.cause:
        return columns.only(objected.cause)
    return columns.of_component(about, by_part=objected.because != "not on this car")
