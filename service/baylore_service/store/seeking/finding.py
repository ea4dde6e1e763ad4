"""The search: which cases hold what is asked, best first by a rough score."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from baylore_service.store.seeking.driver import driver
from baylore_service.store.seeking.rows import lexemes, quoted
from baylore_service.store.seeking.tables import SCHEMA
from baylore_service.store.work import Work


@dataclass(frozen=True, slots=True)
class Group:
    """Terms that must come together, and what they are worth; words less, the longer the case is."""

    terms: tuple[str, ...]
    worth: float
    words: bool


@dataclass(frozen=True, slots=True)
class Ask:
    """What to find: cases with any of the groups; what those it has are worth is added up.

    `mean_length` is that of the shop's cases in terms.
    """

    groups: Sequence[Group]
    mean_length: float
    limit: int


# All rows of a shop are in one partition, where a row's place names it as long as the statement lasts.
# What a word is worth falls with a case's length as in BM25 (k1 1.2, b 0.75) for a word used once.
_FIND = f"""
SELECT id, length, brief FROM {SCHEMA}.cases WHERE shop_id = %(shop)s AND ctid = ANY(ARRAY(
  SELECT c.ctid
  FROM unnest(%(terms)s::text[], %(worth)s::float8[], %(words)s::boolean[]) g (terms, worth, words)
  JOIN {SCHEMA}.cases c ON c.terms @@ g.terms::tsquery
  WHERE c.shop_id = %(shop)s GROUP BY c.ctid ORDER BY sum(
    CASE WHEN g.words THEN 2.2 * g.worth / (1.3 + 0.9 * c.length / %(mean)s) ELSE g.worth END
  ) DESC, c.ctid LIMIT %(limit)s))
"""


def find(work: Work, shop_id: str, number: int, ask: Ask) -> list[tuple[str, float, bytes]]:
    """The cases that are worth most: id, length and brief of each, in no order."""
    if not ask.groups:
        return []
    values = {
        "shop": shop_id,
        "terms": [" & ".join(map(quoted, lexemes(number, group.terms))) for group in ask.groups],
        "worth": [group.worth for group in ask.groups],
        "words": [group.words for group in ask.groups],
        "mean": max(ask.mean_length, 1.0),
        "limit": ask.limit,
    }
    with driver(work) as cursor:
        # Compiling this query takes longer than running it.
        cursor.execute("SET LOCAL jit = off")
        return cursor.execute(_FIND, values).fetchall()
