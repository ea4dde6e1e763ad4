"""The derived tables, made where they are missing or of another layout."""

from __future__ import annotations

from sqlalchemy import func, select, text

from baylore_service.store.work import Work

SCHEMA, PARTITIONS = "baylore_seek", 16
MAKING = 0x7365656B
# Rows that are walked stay narrow: what is long lies beside them. `brief` is read of the best alone,
# `document` of those chosen, `terms` only when the index is made.
_TABLES = f"""
CREATE SCHEMA {SCHEMA};
CREATE TABLE {SCHEMA}.shops (
  shop_id varchar(64) PRIMARY KEY, number serial NOT NULL, reader text NOT NULL DEFAULT '',
  lists text NOT NULL DEFAULT '', filled bigint NOT NULL DEFAULT 0, floor bigint NOT NULL DEFAULT 0,
  counted bigint NOT NULL DEFAULT 0, counts bytea);
CREATE TABLE {SCHEMA}.cases (
  shop_id varchar(64) NOT NULL, id varchar(64) NOT NULL, length real NOT NULL, brief bytea, terms tsvector,
  document bytea NOT NULL, PRIMARY KEY (shop_id, id)) PARTITION BY HASH (shop_id);
CREATE TABLE {SCHEMA}.words (
  shop_id varchar(64) NOT NULL, word text NOT NULL, PRIMARY KEY (shop_id, word));
CREATE TABLE {SCHEMA}.news (
  shop_id varchar(64) NOT NULL, seq bigint NOT NULL, id varchar(64) NOT NULL, was bytea, now bytea,
  PRIMARY KEY (shop_id, seq, id));
ALTER TABLE {SCHEMA}.cases ALTER brief SET STORAGE EXTERNAL, ALTER terms SET STORAGE EXTERNAL;
"""
_PARTITION = """
CREATE TABLE {schema}.cases_{n} PARTITION OF {schema}.cases
  FOR VALUES WITH (MODULUS {of}, REMAINDER {n}) WITH (toast_tuple_target = 128);
"""
INDEX = f"CREATE INDEX cases_terms ON {SCHEMA}.cases USING gin (terms)"


def prepare(work: Work) -> None:
    """Make the tables, where there are none of this layout."""
    if _made(work):
        return
    work.connection.execute(select(func.pg_advisory_xact_lock(MAKING)))
    if _made(work):
        return
    work.connection.exec_driver_sql(f"DROP SCHEMA IF EXISTS {SCHEMA} CASCADE")
    work.connection.exec_driver_sql(_TABLES)
    for n in range(PARTITIONS):
        work.connection.exec_driver_sql(_PARTITION.format(schema=SCHEMA, n=n, of=PARTITIONS))
    work.connection.exec_driver_sql(INDEX)


def _made(work: Work) -> bool:
    there = text("SELECT to_regclass(:name) IS NOT NULL")
    return bool(work.connection.execute(there, {"name": f"{SCHEMA}.cases"}).scalar())
