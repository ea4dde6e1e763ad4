"""Cases found by PostgreSQL's own full-text index: derived tables beside the store, rebuilt when lost.

They are made at first need in a schema of their own, so that a store without them needs nothing more. Each
word of a case stands in its `tsvector` behind the number of its shop: a search walks the list of that shop's
cases alone, however many shops share a partition.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import islice

import structlog
from sqlalchemy import func, select, text
from sqlalchemy.exc import DBAPIError

from baylore_service.store.work import Work

log = structlog.get_logger("baylore.seeking")
SCHEMA, PARTITIONS, BATCH = "baylore_seek", 16, 500
_MAKING = 0x7365656B
_TABLES = f"""
CREATE SCHEMA IF NOT EXISTS {SCHEMA};
CREATE TABLE IF NOT EXISTS {SCHEMA}.shops (
  shop_id varchar(64) PRIMARY KEY, number serial NOT NULL, reader text NOT NULL DEFAULT '',
  lists text NOT NULL DEFAULT '', filled bigint NOT NULL DEFAULT 0, floor bigint NOT NULL DEFAULT 0,
  counted bigint NOT NULL DEFAULT 0, counts bytea);
CREATE TABLE IF NOT EXISTS {SCHEMA}.sought (
  shop_id varchar(64) NOT NULL, id varchar(64) NOT NULL, length real NOT NULL, terms tsvector NOT NULL,
  PRIMARY KEY (shop_id, id)) PARTITION BY HASH (shop_id);
CREATE TABLE IF NOT EXISTS {SCHEMA}.written (
  shop_id varchar(64) NOT NULL, id varchar(64) NOT NULL, document bytea NOT NULL,
  PRIMARY KEY (shop_id, id)) PARTITION BY HASH (shop_id);
CREATE TABLE IF NOT EXISTS {SCHEMA}.words (
  shop_id varchar(64) NOT NULL, word text NOT NULL, PRIMARY KEY (shop_id, word));
CREATE TABLE IF NOT EXISTS {SCHEMA}.news (
  shop_id varchar(64) NOT NULL, seq bigint NOT NULL, id varchar(64) NOT NULL, was bytea, now bytea,
  PRIMARY KEY (shop_id, seq, id));
"""
_PARTITION = """
CREATE TABLE IF NOT EXISTS {schema}.{table}_{n} PARTITION OF {schema}.{table}
  FOR VALUES WITH (MODULUS {of}, REMAINDER {n});
"""
# Trigrams are an extension that comes with PostgreSQL; whoever owns the database may make it.
TRIGRAMS = (
    "CREATE EXTENSION IF NOT EXISTS pg_trgm",
    f"CREATE INDEX IF NOT EXISTS words_alike ON {SCHEMA}.words USING gin (word gin_trgm_ops)",
)
INDEX = f"CREATE INDEX IF NOT EXISTS sought_terms ON {SCHEMA}.sought USING gin (terms);"


@dataclass(frozen=True, slots=True)
class State:
    """How far a shop's tables are: filled to a change, with news after `floor` and counts of `counted`."""

    number: int
    reader: str
    lists: str
    filled: int
    floor: int
    counted: int


@dataclass(frozen=True, slots=True)
class Row:
    """A case as it is sought: not at all while it is open (`terms` None)."""

    id: str
    length: float
    terms: Sequence[str] | None
    document: bytes


@dataclass(frozen=True, slots=True)
class Told:
    """A case that changed, as it was written before and after."""

    seq: int
    id: str
    was: bytes | None
    now: bytes | None


def prepare(work: Work) -> None:
    """Make what tables are missing."""
    here = text("SELECT to_regclass(:name) IS NOT NULL")
    if work.connection.execute(here, {"name": f"{SCHEMA}.words"}).scalar():
        return
    work.connection.execute(select(func.pg_advisory_xact_lock(_MAKING)))
    work.connection.exec_driver_sql(_TABLES)
    for table in ("sought", "written"):
        for n in range(PARTITIONS):
            work.connection.exec_driver_sql(_PARTITION.format(schema=SCHEMA, table=table, n=n, of=PARTITIONS))
    work.connection.exec_driver_sql(INDEX)


def prepare_trigrams(work: Work) -> None:
    """Make the index that finds words spelt alike, where this database may have it; else that is logged."""
    work.connection.execute(select(func.pg_advisory_xact_lock(_MAKING)))
    try:
        with work.connection.begin_nested():
            for statement in TRIGRAMS:
                work.connection.exec_driver_sql(statement)
    except DBAPIError as error:
        log.warning("no trigrams", reason=str(error.orig).partition("\n")[0])


def locked(work: Work, shop_id: str) -> State:
    """The state of a shop's tables, which no other process fills until the work ends."""
    new = text(f"INSERT INTO {SCHEMA}.shops (shop_id) VALUES (:shop) ON CONFLICT DO NOTHING")
    work.connection.execute(new, {"shop": shop_id})
    return _state(work, shop_id, " FOR UPDATE") or State(0, "", "", 0, 0, 0)


def state(work: Work, shop_id: str) -> State | None:
    """The state of a shop's tables, None where there are none."""
    return _state(work, shop_id, "")


def _state(work: Work, shop_id: str, how: str) -> State | None:
    names = "number, reader, lists, filled, floor, counted"
    query = text(f"SELECT {names} FROM {SCHEMA}.shops WHERE shop_id = :shop{how}")
    row = work.connection.execute(query, {"shop": shop_id}).one_or_none()
    return None if row is None else State(*row)


def put(work: Work, shop_id: str, number: int, rows: Iterable[Row]) -> None:
    """Write cases anew."""
    rest = iter(rows)
    while some := list(islice(rest, BATCH)):
        drop(work, shop_id, [row.id for row in some])
        written: list[dict[str, object]] = [
            {"shop": shop_id, "id": row.id, "document": row.document} for row in some
        ]
        _many(work, f"INSERT INTO {SCHEMA}.written VALUES (:shop, :id, :document)", written)
        sought: list[dict[str, object]] = [
            {"shop": shop_id, "id": row.id, "length": row.length, "terms": _lexemes(number, row.terms)}
            for row in some
            if row.terms is not None
        ]
        terms = "array_to_tsvector(CAST(:terms AS text[]))"
        _many(work, f"INSERT INTO {SCHEMA}.sought VALUES (:shop, :id, :length, {terms})", sought)


def _many(work: Work, statement: str, rows: list[dict[str, object]]) -> None:
    if rows:
        work.connection.execute(text(statement), rows)


def _lexemes(number: int, terms: Iterable[str]) -> list[str]:
    return [f"{number}:{term}" for term in terms]


def drop(work: Work, shop_id: str, ids: Sequence[str]) -> None:
    """Take cases out."""
    for table in ("sought", "written"):
        gone = text(f"DELETE FROM {SCHEMA}.{table} WHERE shop_id = :shop AND id = ANY(:ids)")
        work.connection.execute(gone, {"shop": shop_id, "ids": list(ids)})


def clear(work: Work, shop_id: str) -> None:
    """Take all cases of a shop out, with its news."""
    for table in ("sought", "written", "news"):
        work.connection.execute(
            text(f"DELETE FROM {SCHEMA}.{table} WHERE shop_id = :shop"), {"shop": shop_id}
        )


def restart(work: Work, shop_id: str, *, revision: int) -> None:
    """Note that the tables were filled anew: what was counted before is void."""
    said = text(f"UPDATE {SCHEMA}.shops SET floor = :to, counted = 0, counts = NULL WHERE shop_id = :shop")
    work.connection.execute(said, {"to": revision, "shop": shop_id})


def filled(work: Work, shop_id: str, *, to: int, reader: str, lists: str) -> None:
    """Note how far the tables are."""
    said = text(
        f"UPDATE {SCHEMA}.shops SET filled = :to, reader = :reader, lists = :lists WHERE shop_id = :shop"
    )
    work.connection.execute(said, {"to": to, "reader": reader, "lists": lists, "shop": shop_id})


def keep_counts(work: Work, shop_id: str, counts: bytes, *, revision: int) -> None:
    """Keep what was counted up to a revision; older news are needed no more."""
    said = text(
        f"UPDATE {SCHEMA}.shops SET counts = :counts, counted = :to, floor = :to"
        " WHERE shop_id = :shop AND counted < :to"
    )
    work.connection.execute(said, {"counts": counts, "to": revision, "shop": shop_id})
    old = text(f"DELETE FROM {SCHEMA}.news WHERE shop_id = :shop AND seq <= :to")
    work.connection.execute(old, {"shop": shop_id, "to": revision})


def counts(work: Work, shop_id: str) -> bytes | None:
    """What was counted and kept, None where nothing was."""
    query = text(f"SELECT counts FROM {SCHEMA}.shops WHERE shop_id = :shop")
    found = work.connection.execute(query, {"shop": shop_id}).scalar()
    return None if found is None else bytes(found)


def tell(work: Work, shop_id: str, news: Sequence[Told]) -> None:
    """Add to the news."""
    rows: list[dict[str, object]] = [
        {"shop": shop_id, "seq": each.seq, "id": each.id, "was": each.was, "now": each.now} for each in news
    ]
    _many(work, f"INSERT INTO {SCHEMA}.news VALUES (:shop, :seq, :id, :was, :now)", rows)


def news(work: Work, shop_id: str, *, after: int) -> Iterator[Told]:
    """The news after a revision, in their order."""
    query = text(
        f"SELECT seq, id, was, now FROM {SCHEMA}.news WHERE shop_id = :shop AND seq > :after ORDER BY seq, id"
    )
    rows = work.connection.execute(query, {"shop": shop_id, "after": after})
    return (Told(row.seq, row.id, _bytes(row.was), _bytes(row.now)) for row in rows)


def _bytes(value: object) -> bytes | None:
    return None if value is None else bytes(value)  # type: ignore[call-overload]


def documents(work: Work, shop_id: str, ids: Sequence[str]) -> dict[str, bytes]:
    """Cases as they were written, by id."""
    query = text(f"SELECT id, document FROM {SCHEMA}.written WHERE shop_id = :shop AND id = ANY(:ids)")
    rows = work.connection.execute(query, {"shop": shop_id, "ids": list(ids)})
    return {row.id: bytes(row.document) for row in rows}


def every(work: Work, shop_id: str) -> Iterator[bytes]:
    """All cases of a shop as they were written, by id: sums of fractions depend on the order."""
    query = text(f"SELECT document FROM {SCHEMA}.written WHERE shop_id = :shop ORDER BY id")
    rows = work.connection.execute(query.execution_options(yield_per=BATCH), {"shop": shop_id})
    return (bytes(row.document) for row in rows)


def holding(work: Work, shop_id: str, number: int, terms: Iterable[str]) -> list[str]:
    """Ids of the cases that hold all these terms."""
    query = text(f"SELECT id FROM {SCHEMA}.sought WHERE shop_id = :shop AND terms @@ CAST(:all AS tsquery)")
    wanted = " & ".join(_quoted(lexeme) for lexeme in _lexemes(number, terms))
    return list(work.connection.execute(query, {"shop": shop_id, "all": wanted}).scalars())


def keep_words(work: Work, shop_id: str, words: Sequence[str], *, anew: bool) -> None:
    """Add words of a shop's cases; `anew`: these are all there are."""
    if anew:
        work.connection.execute(text(f"DELETE FROM {SCHEMA}.words WHERE shop_id = :shop"), {"shop": shop_id})
    new = f"INSERT INTO {SCHEMA}.words SELECT :shop, unnest(CAST(:words AS text[])) ON CONFLICT DO NOTHING"
    work.connection.execute(text(new), {"shop": shop_id, "words": list(words)})


def alike(work: Work, shop_id: str, words: Sequence[str], *, most: int) -> dict[str, list[tuple[str, float]]]:
    """Words of a shop spelt like these, most alike first, with the share of trigrams they have in common.

    None where the database has no trigrams. A word may be there that no case holds any more.
    """
    there = text("SELECT to_regclass(:name) IS NOT NULL")
    if not work.connection.execute(there, {"name": f"{SCHEMA}.words_alike"}).scalar():
        return {}
    query = text(
        "SELECT asked.word, near.word AS found, near.likeness"
        " FROM unnest(CAST(:words AS text[])) asked (word) CROSS JOIN LATERAL"
        f" (SELECT w.word, similarity(w.word, asked.word) AS likeness FROM {SCHEMA}.words w"
        " WHERE w.shop_id = :shop AND w.word % asked.word ORDER BY likeness DESC, w.word LIMIT :most) near"
    )
    found: dict[str, list[tuple[str, float]]] = {}
    values = {"shop": shop_id, "words": list(words), "most": most}
    for row in work.connection.execute(query, values):
        found.setdefault(row.word, []).append((row.found, float(row.likeness)))
    return found


@dataclass(frozen=True, slots=True)
class Ask:
    """What to find: cases with any of `any_of` (one term, or several that must come together), most `worth`
    first; each term found adds its worth, the words' less the longer the case is.
    """

    any_of: Sequence[tuple[str, ...]]
    words: Mapping[str, float]
    facets: Mapping[str, float]
    mean_length: float
    limit: int


def find(work: Work, shop_id: str, number: int, ask: Ask) -> list[bytes]:
    """The cases that are worth most, as they were written; ties by id."""
    if not ask.any_of:
        return []
    groups = ["(" + " & ".join(map(_quoted, _lexemes(number, group))) + ")" for group in ask.any_of]
    values: dict[str, object] = {
        "shop": shop_id,
        "any": " | ".join(groups),
        "limit": ask.limit,
        "mean": max(ask.mean_length, 1.0),
    }
    worth = f"({_sum(values, number, ask.words, 'w')}) / (1.0 + 1.2 * (0.25 + 0.75 * length / :mean))"
    facets = _sum(values, number, ask.facets, "f")
    query = text(
        f"SELECT w.document FROM (SELECT id, 2.2 * {worth} + {facets} AS worth FROM {SCHEMA}.sought"
        " WHERE shop_id = :shop AND terms @@ CAST(:any AS tsquery) ORDER BY worth DESC, id LIMIT :limit) s"
        f" JOIN {SCHEMA}.written w ON w.shop_id = :shop AND w.id = s.id"
    )
    # Compiling this query takes longer than running it.
    work.connection.exec_driver_sql("SET LOCAL jit = off")
    return [bytes(row.document) for row in work.connection.execute(query, values)]


def _sum(values: dict[str, object], number: int, worth: Mapping[str, float], name: str) -> str:
    """SQL that adds up what is found; its values are put beside the others."""
    parts = ["0.0"]
    for n, (term, value) in enumerate(worth.items()):
        values[f"{name}{n}"], values[f"{name}{n}v"] = _quoted(f"{number}:{term}"), value
        parts.append(
            f"CASE WHEN terms @@ CAST(:{name}{n} AS tsquery) THEN CAST(:{name}{n}v AS float8) ELSE 0 END"
        )
    return " + ".join(parts)


def _quoted(lexeme: str) -> str:
    doubled = lexeme.replace("\\", "\\\\").replace("'", "''")
    return f"'{doubled}'"
