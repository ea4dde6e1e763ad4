"""Records in a file that tell of a visit already written down: counted and named, never merged."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from baylore_kb.alike import Twin, Visits
from baylore_kb.values import Case
from baylore_service.desk.arrivals import Line
from baylore_service.store.records import CaseFile

MOST_NAMED = 200


@dataclass(frozen=True, slots=True)
class Double:
    """A line of the file and another record of the same visit, in the shop or in an earlier line.

    `of_line` is that line, None for a record of the shop.
    """

    line: int
    case: str
    of: str
    of_line: int | None
    exact: bool
    why: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Doubles:
    """How many lines say the very same as another record, how many nearly, and the first of them by name.

    `in_file` of them are doubles of an earlier line, the others of a record of the shop.
    """

    exact: int = 0
    near: int = 0
    in_file: int = 0
    named: tuple[Double, ...] = ()


def doubles(arrived: Iterable[Line[CaseFile]], there: Iterable[Case]) -> Doubles:
    """The new lines whose visit is written down already, in the shop or in an earlier line.

    A line of a case that is there is no double, nor one that says itself that it is joined or another visit.
    Time grows with the number of records, not with its square.
    """
    known = {case.id for case in there}
    visits, lines, found = Visits(there), dict[str, int](), list[Double]()
    for line in arrived:
        file = line.holds
        if file.id in known or file.joined_into is not None:
            continue
        case = file.as_case()
        twin = _unsettled(visits.twins(case), file)
        visits.add(case)
        lines[file.id] = line.number
        if twin is not None:
            of = twin.case.id
            found.append(Double(line.number, file.id, of, lines.get(of), twin.exact, twin.why))
    exact = sum(each.exact for each in found)
    in_file = sum(each.of_line is not None for each in found)
    return Doubles(exact, len(found) - exact, in_file, tuple(found[:MOST_NAMED]))


def _unsettled(twins: Iterable[Twin], file: CaseFile) -> Twin | None:
    return next((each for each in twins if each.case.id not in file.apart_from), None)
