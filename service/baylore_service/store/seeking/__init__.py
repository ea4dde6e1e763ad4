"""Cases found by PostgreSQL's own full-text index: derived tables beside the store, rebuilt when lost.

They are made at first need in a schema of their own, so that a store without them needs nothing more. Each
word of a case stands in its `tsvector` behind the number of its shop: a search walks the list of that shop's
cases alone, however many shops share a partition.
"""

from baylore_service.store.seeking.finding import Ask, Group, find
from baylore_service.store.seeking.news import Told, news, tell
from baylore_service.store.seeking.rows import Row, add, clear, documents, drop, every, holding
from baylore_service.store.seeking.states import (
    State,
    counts,
    filled,
    keep_counts,
    locked,
    restart,
    state,
)
from baylore_service.store.seeking.tables import INDEX, SCHEMA, prepare
from baylore_service.store.seeking.words import alike, keep_words, prepare_trigrams

__all__ = [
    "INDEX",
    "SCHEMA",
    "Ask",
    "Group",
    "Row",
    "State",
    "Told",
    "add",
    "alike",
    "clear",
    "counts",
    "documents",
    "drop",
    "every",
    "filled",
    "find",
    "holding",
    "keep_counts",
    "keep_words",
    "locked",
    "news",
    "prepare",
    "prepare_trigrams",
    "restart",
    "state",
    "tell",
]
