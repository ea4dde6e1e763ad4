"""The sums of a job."""

from __future__ import annotations

from dataclasses import replace

from baylore_kb.values import Cost, Labour
from baylore_service.store.records import CaseFile


def summed(file: CaseFile) -> CaseFile:
    """The case with its cost worked out: charged parts, billed minutes at the rate, and other."""
    parts = sum(step.part.price or 0.0 for step in file.parts if step.part.charged)
    return replace(file, cost=replace(file.cost, parts=round(parts, 2), labour=round(billed(file.labour), 2)))


def billed(labour: Labour) -> float:
    """Money for the minutes that are billed, never below 0; without a rate 0."""
    minutes = labour.diagnosis_min + labour.repair_min - labour.not_billed_min
    return max(0.0, minutes) / 60 * (labour.rate_per_hour or 0.0)


def with_defaults(labour: Labour, *, tested_min: float, rate: float) -> Labour:
    """The labour with the tests' minutes where no diagnosis is given and the shop's rate where none is."""
    return replace(
        labour,
        diagnosis_min=labour.diagnosis_min or tested_min,
        rate_per_hour=labour.rate_per_hour or rate,
    )


def with_other(cost: Cost, *, other: float, currency: str) -> Cost:
    """The cost with other money; the first currency of a case stays."""
    return replace(cost, other=round(other, 2), currency=cost.currency or currency)
