"""Records in a file that tell of a visit already written down: counted and named, never merged."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from baylore_kb.alike import Visits
from baylore_kb.values import Case
from baylore_service.desk.arrivals import Line
from baylore_service.store.records import CaseFile

MOST_NAMED = 200


@dataclass(frozen=True, slots=True)
class Double:
    """A line of the file and another record of the same visit, in the shop or earlier in the file."""

    line: int
    case: str
    of: str
    exact: bool
    why: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Doubles:
    """How many lines say the very same as another record, how many nearly, and the first of them by name."""

    exact: int = 0
    near: int = 0
    named: tuple[Double, ...] = ()


def doubles(arrived: Iterable[Line[CaseFile]], there: Iterable[Case]) -> Doubles:
    """The new lines whose visit is written down already, in the shop or in an earlier line.

    Time grows with the number of records, not with its square: only those of one car and a few days are
    compared.
    """
    known = {case.id: case for case in there}
    visits, exact, found = Visits(known.values()), 0, []
    for line in arrived:
        case = line.holds.as_case()
        if case.id in known:
            continue
        twin = next(iter(visits.twins(case)), None)
        visits.add(case)
        if twin is not None:
            exact += twin.exact
            found.append(Double(line.number, case.id, twin.case.id, twin.exact, twin.why))
    return Doubles(exact, len(found) - exact, tuple(found[:MOST_NAMED]))
