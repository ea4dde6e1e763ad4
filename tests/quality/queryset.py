"""What a collection with judgments is: what is searched, what is asked, which answers are right."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from baylore_kb.values import Case, Complaint


@dataclass(frozen=True, slots=True)
class Query:
    """A question: its words, all that is known (for who can use it), its right answers by grade.

    `hidden` are documents that must not count, as the asked record itself.
    """

    id: str
    text: str
    grades: Mapping[str, float]
    hidden: frozenset[str] = frozenset()
    known: Complaint | None = None


@dataclass(frozen=True, slots=True)
class QuerySet:
    """Documents by id and queries on them; `cases` are the documents with all that is known of them.

    `vehicle` tells whether the set is of cars, where more is asked of a shop's memory. `unanswerable` is how
    many queries were left out because no document is right for them.
    """

    name: str
    documents: Mapping[str, str]
    queries: tuple[Query, ...]
    cases: tuple[Case, ...] = ()
    vehicle: bool = False
    unanswerable: int = 0


def answerable(given: QuerySet) -> QuerySet:
    """The set without the queries that have no right answer, counted."""
    kept = tuple(query for query in given.queries if query.grades)
    return replace(given, queries=kept, unanswerable=len(given.queries) - len(kept))


def thinned(given: QuerySet, most: int | None) -> QuerySet:
    """At most so many queries, spread evenly over the set; all of them for None."""
    if most is None or len(given.queries) <= most:
        return given
    return replace(given, queries=given.queries[:: -(-len(given.queries) // most)])
