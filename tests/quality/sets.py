"""All collections by name, in three lines from a notebook:

    given = load("demo")
    rankings = {query.id: my_ranking(query) for query in given.queries}
    evaluate(rankings, given).mrr

Outside sets are read from the folder that BAYLORE_OUTSIDE_DATA names; they are not part of the project.
"""

from __future__ import annotations

from collections.abc import Callable

from tests.quality import outside, shops
from tests.quality.measures import evaluate
from tests.quality.queryset import Query, QuerySet, answerable

__all__ = ["SETS", "Query", "QuerySet", "evaluate", "load", "present"]

SETS: dict[str, Callable[[int], QuerySet]] = {**outside.MADE, **shops.MADE}


def load(name: str, *, seed: int = 0) -> QuerySet:
    """A set by name; another `seed` makes other invented shops and slips, outside sets stay as they are.

    Raises KeyError for an unknown name, FileNotFoundError where its data is absent.
    """
    return answerable(SETS[name](seed))


def present(name: str) -> bool:
    """Whether the data of a set is here."""
    return name not in outside.FOLDERS or (outside.FOLDER / outside.FOLDERS[name]).is_dir()
