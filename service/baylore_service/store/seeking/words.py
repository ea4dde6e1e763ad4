"""The words of a shop, where those spelt like another are found by their trigrams."""

from __future__ import annotations

from collections.abc import Sequence

import structlog
from sqlalchemy import func, select, text
from sqlalchemy.exc import DBAPIError

from baylore_service.store.seeking.tables import MAKING, SCHEMA
from baylore_service.store.work import Work

log = structlog.get_logger("baylore.seeking")
# Trigrams are an extension that comes with PostgreSQL; whoever owns the database may make it.
TRIGRAMS = (
    "CREATE EXTENSION IF NOT EXISTS pg_trgm",
    f"CREATE INDEX IF NOT EXISTS words_alike ON {SCHEMA}.words USING gin (word gin_trgm_ops)",
)


def prepare_trigrams(work: Work) -> None:
    """Make the index that finds words spelt alike, where this database may have it; else that is logged."""
    work.connection.execute(select(func.pg_advisory_xact_lock(MAKING)))
    try:
        with work.connection.begin_nested():
            for statement in TRIGRAMS:
                work.connection.exec_driver_sql(statement)
    except DBAPIError as error:
        log.warning("no trigrams", reason=str(error.orig).partition("\n")[0])


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
