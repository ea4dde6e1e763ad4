"""What a record says, without what only tells which record it is."""

from __future__ import annotations

from dataclasses import replace

from baylore_kb.values import Case


def bare(case: Case) -> Case:
    """The record without its id, its links and its times of writing; two that say the same are equal."""
    return replace(case, id="", opened=None, closed=None, comeback_of=None, returned_as=())


def same_content(one: Case, other: Case) -> bool:
    """Whether two records say the very same."""
    return gist(one) == gist(other) and bare(one) == bare(other)


def gist(case: Case) -> tuple[object, ...]:
    """A part of what a record says, quick to compare and to look up by: other gist, other content."""
    said, car = case.complaint, case.complaint.vehicle
    return (
        said.text,
        case.note,
        case.cause,
        car.make,
        car.model,
        car.year,
        car.odometer,
        car.vin,
        said.codes,
    )
