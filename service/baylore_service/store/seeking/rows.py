"""The cases in the derived tables: written, taken out, and read again as they were written."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import islice

from sqlalchemy import text

from baylore_service.store.seeking.driver import driver
from baylore_service.store.seeking.tables import SCHEMA
from baylore_service.store.work import Work

BATCH = 500
_COPY = f"COPY {SCHEMA}.cases (shop_id, id, length, brief, terms, document) FROM STDIN"


@dataclass(frozen=True, slots=True)
class Row:
    """A case as it is sought (by `terms`), chosen (by `brief`) and kept; an open one is only kept."""

    id: str
    length: float
    terms: Sequence[str] | None
    brief: bytes | None
    document: bytes


def add(work: Work, shop_id: str, number: int, rows: Iterable[Row]) -> None:
    """Write cases that are not there; where they come from may read of this work meanwhile."""
    rest = iter(rows)
    while some := list(islice(rest, BATCH)):
        with driver(work) as cursor, cursor.copy(_COPY) as copy:
            for row in some:
                copy.write_row(_columns(shop_id, number, row))


def _columns(shop_id: str, number: int, row: Row) -> tuple[object, ...]:
    terms = None if row.terms is None else " ".join(map(quoted, lexemes(number, row.terms)))
    return shop_id, row.id, row.length, row.brief, terms, row.document


def lexemes(number: int, terms: Iterable[str]) -> list[str]:
    """Terms as they stand in the index: behind the number of the shop."""
    return [f"{number}:{term}" for term in terms]


def quoted(lexeme: str) -> str:
    """A lexeme as it is written in a tsvector or tsquery."""
    doubled = lexeme.replace("\\", "\\\\").replace("'", "''")
    return f"'{doubled}'"


def drop(work: Work, shop_id: str, ids: Sequence[str]) -> None:
    """Take cases out."""
    gone = text(f"DELETE FROM {SCHEMA}.cases WHERE shop_id = :shop AND id = ANY(:ids)")
    work.connection.execute(gone, {"shop": shop_id, "ids": list(ids)})


def clear(work: Work, shop_id: str) -> None:
    """Take all cases of a shop out, with its news."""
    for table in ("cases", "news"):
        gone = text(f"DELETE FROM {SCHEMA}.{table} WHERE shop_id = :shop")
        work.connection.execute(gone, {"shop": shop_id})


def documents(work: Work, shop_id: str, ids: Sequence[str]) -> dict[str, bytes]:
    """Cases as they were written, by id."""
    query = f"SELECT id, document FROM {SCHEMA}.cases WHERE shop_id = %s AND id = ANY(%s)"
    with driver(work) as cursor:
        return dict(cursor.execute(query, (shop_id, list(ids))).fetchall())


def every(work: Work, shop_id: str) -> Iterator[bytes]:
    """All cases of a shop as they were written, by id: sums of fractions depend on the order."""
    query = text(f"SELECT document FROM {SCHEMA}.cases WHERE shop_id = :shop ORDER BY id")
    rows = work.connection.execute(query.execution_options(yield_per=BATCH), {"shop": shop_id})
    return (bytes(row.document) for row in rows)


def holding(work: Work, shop_id: str, number: int, terms: Iterable[str]) -> list[str]:
    """Ids of the cases that hold all these terms."""
    query = text(f"SELECT id FROM {SCHEMA}.cases WHERE shop_id = :shop AND terms @@ CAST(:all AS tsquery)")
    wanted = " & ".join(map(quoted, lexemes(number, terms)))
    return list(work.connection.execute(query, {"shop": shop_id, "all": wanted}).scalars())
