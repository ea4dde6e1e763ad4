"""Minutes and money of a demo job, adding up."""

from __future__ import annotations

from collections.abc import Iterable
from random import Random

from baylore_kb.values import Cost, Labour, PartTried, TestDone
from baylore_service.demo.world import shop_facts

MOST_DIAGNOSIS_BILLED = 95.0


def labour(
    tests: Iterable[TestDone], repair_min: float, parts: Iterable[PartTried], *, chance: Random
) -> Labour:
    """Minutes of the job; work on parts that did not cure and long searches are partly given away."""
    diagnosis = sum((test.minutes or 0.0 for test in tests), 0.0)
    wasted = [part for part in parts if part.result in ("no change", "partly")]
    given = round(repair_min * 0.5) * len(wasted) + max(0.0, diagnosis - MOST_DIAGNOSIS_BILLED)
    if chance.random() < 0.2:
        given += round(diagnosis * chance.uniform(0.2, 0.6))
    whole = diagnosis + repair_min * (1 + len(wasted))
    rate = float(shop_facts()["rate_per_hour"])
    return Labour(diagnosis, whole - diagnosis, min(float(round(given)), whole), rate)


def cost(work: Labour, parts: Iterable[PartTried], *, other: float = 0.0) -> Cost:
    """Charged parts, billed minutes at the rate, and other money."""
    charged = sum((part.price or 0.0 for part in parts if part.charged), 0.0)
    billed = work.diagnosis_min + work.repair_min - work.not_billed_min
    money = billed / 60 * (work.rate_per_hour or 0.0)
    return Cost(round(charged, 2), round(money, 2), other, str(shop_facts()["currency"]))
