"""The tables of the store, for SQLite and PostgreSQL alike."""

from __future__ import annotations

from datetime import UTC, datetime

from sqlalchemy import (
    BigInteger,
    Boolean,
    CheckConstraint,
    Column,
    DateTime,
    Dialect,
    Float,
    ForeignKey,
    ForeignKeyConstraint,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
    TypeDecorator,
    UniqueConstraint,
    false,
)

NAMES = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}
metadata = MetaData(naming_convention=NAMES)


class Moment(TypeDecorator[datetime]):
    """A time in UTC; SQLite keeps no zone, so it is put back on reading."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """The time in UTC."""
        return value and value.astimezone(UTC)

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """The time with its zone."""
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


def _id(name: str = "id", *, primary_key: bool = False, nullable: bool = False) -> Column[str]:
    return Column(name, String(64), primary_key=primary_key, nullable=nullable)


def _shop(*, primary_key: bool = False) -> Column[str]:
    return Column("shop_id", String(64), ForeignKey("shops.id"), primary_key=primary_key, nullable=False)


shops = Table(
    "shops",
    metadata,
    _id(primary_key=True),
    Column("name", String(80), nullable=False),
    Column("currency", String(3), nullable=False),
    Column("unit_system", String(2), nullable=False),
    Column("rate_per_hour", Float, nullable=False),
    Column("time_zone", String(80), nullable=False),
    Column("made", Moment, nullable=False),
    Column("latest", BigInteger, nullable=False, server_default="0"),
    Column("acts", BigInteger, nullable=False, server_default="0"),
    Column("lacks", Text, nullable=False, server_default="[]"),
    Column("rights", Text, nullable=False, server_default="[]"),
    Column("shares", Boolean, nullable=False, server_default=false()),
    CheckConstraint("unit_system IN ('si', 'us')", name="unit_system"),
    CheckConstraint("rate_per_hour > 0", name="rate"),
    CheckConstraint("latest >= 0", name="latest"),
)

members = Table(
    "members",
    metadata,
    _id(primary_key=True),
    _shop(),
    Column("name", String(80), nullable=False),
    Column("role", String(10), nullable=False),
    Column("skill", Integer, nullable=False),
    Column("active", Boolean, nullable=False),
    Column("rights", Text, nullable=False, server_default="[]"),
    CheckConstraint("role IN ('technician', 'manager')", name="role"),
    CheckConstraint("skill BETWEEN 1 AND 4", name="skill"),
    Index(None, "shop_id"),
)

# A new token (`next_hash`) takes the old one's place when it is first used; the old one (`past_hash`) holds a
# while longer, for what is on its way.
devices = Table(
    "devices",
    metadata,
    _id(primary_key=True),
    Column("member_id", String(64), ForeignKey("members.id"), nullable=False),
    Column("name", String(80), nullable=False),
    Column("token_hash", String(64), nullable=False, unique=True),
    Column("made", Moment, nullable=False),
    Column("last_seen", Moment),
    Column("revoked", Boolean, nullable=False),
    Column("token_made", Moment),
    Column("next_hash", String(64)),
    Column("past_hash", String(64)),
    Column("past_until", Moment),
    Index(None, "member_id"),
    Index(None, "next_hash"),
    Index(None, "past_hash"),
)

enrolments = Table(
    "enrolments",
    metadata,
    Column("code_hash", String(64), primary_key=True),
    Column("member_id", String(64), ForeignKey("members.id"), nullable=False),
    Column("expires", Moment, nullable=False),
    Column("used", Moment),
    Index(None, "expires"),
)

# Wrong codes and tokens of the last minute, by the address and by what was sent.
wrong_tries = Table(
    "wrong_tries",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("key", String(64), nullable=False),
    Column("at", Moment, nullable=False),
    Index(None, "key", "at"),
    Index(None, "at"),
)

# `words` and `systems` are what lists search; `origin` is the digest of the import line a case came from.
cases = Table(
    "cases",
    metadata,
    _shop(primary_key=True),
    _id(primary_key=True),
    Column("revision", BigInteger, nullable=False),
    Column("state", String(10), nullable=False),
    Column("opened", Moment, nullable=False),
    Column("closed", Moment),
    Column("updated", Moment, nullable=False),
    Column("make", String(200), nullable=False),
    Column("model", String(200), nullable=False),
    Column("cause", String(200)),
    Column("systems", Text, nullable=False),
    Column("words", Text, nullable=False),
    Column("origin", String(64)),
    Column("document", Text, nullable=False),
    CheckConstraint("state IN ('open', 'closed', 'unresolved')", name="state"),
    CheckConstraint("revision > 0", name="revision"),
    Index(None, "shop_id", "opened", "id"),
    Index(None, "shop_id", "origin"),
)

photos = Table(
    "photos",
    metadata,
    _shop(primary_key=True),
    _id(primary_key=True),
    _id("case_id"),
    Column("type", String(20), nullable=False),
    Column("data", LargeBinary, nullable=False),
    ForeignKeyConstraint(["shop_id", "case_id"], ["cases.shop_id", "cases.id"], ondelete="CASCADE"),
    CheckConstraint("type IN ('image/jpeg', 'image/png', 'image/webp')", name="type"),
    Index(None, "shop_id", "case_id"),
)

changes = Table(
    "changes",
    metadata,
    _shop(primary_key=True),
    Column("seq", BigInteger, primary_key=True, autoincrement=False),
    Column("kind", String(10), nullable=False),
    Column("entity", String(200), nullable=False),
    Column("op", String(10), nullable=False),
    Column("at", Moment, nullable=False),
    CheckConstraint("kind IN ('case', 'shop', 'member', 'trade', 'tuning')", name="kind"),
    CheckConstraint("op IN ('put', 'delete')", name="op"),
    CheckConstraint("seq > 0", name="seq"),
)

# Who changed what; names stand with the members alone, so that one taken off is off here too.
acts = Table(
    "acts",
    metadata,
    _shop(primary_key=True),
    Column("seq", BigInteger, primary_key=True, autoincrement=False),
    Column("at", Moment, nullable=False),
    _id("member_id"),
    _id("device_id"),
    Column("kind", String(20), nullable=False),
    Column("entity", String(200), nullable=False),
    Column("done", String(20), nullable=False),
    Column("fields", String(500), nullable=False),
    Index(None, "at"),
)

receipts = Table(
    "receipts",
    metadata,
    _shop(primary_key=True),
    Column("key", String(200), primary_key=True),
    Column("digest", String(64), nullable=False),
    Column("body", LargeBinary, nullable=False),
    Column("at", Moment, nullable=False),
    Index(None, "at"),
)

# The shop's own tests and causes, and its own minutes of listed tests.
own_entries = Table(
    "own_entries",
    metadata,
    _shop(primary_key=True),
    Column("kind", String(10), primary_key=True),
    Column("id", String(200), primary_key=True),
    Column("made", Moment, nullable=False),
    Column("updated", Moment, nullable=False),
    Column("document", Text, nullable=False),
    CheckConstraint("kind IN ('test', 'cause', 'minutes', 'word')", name="kind"),
)

# What the shop's cases taught the engine, each trial with its losses; `revision` is the change it rests on.
tunings = Table(
    "tunings",
    metadata,
    _shop(primary_key=True),
    Column("version", Integer, primary_key=True, autoincrement=False),
    Column("at", Moment, nullable=False),
    Column("revision", BigInteger, nullable=False),
    Column("closed", Integer, nullable=False),
    Column("asked", Integer, nullable=False),
    Column("shipped_loss", Float),
    Column("tuned_loss", Float),
    Column("adopted", Boolean, nullable=False),
    Column("document", Text, nullable=False),
    CheckConstraint("version > 0", name="version"),
)

# A long act of a shop that only one process may do at a time, until its claim runs out.
claims = Table(
    "claims",
    metadata,
    _shop(primary_key=True),
    Column("act", String(20), primary_key=True),
    _id("holder"),
    Column("until", Moment, nullable=False),
)

# Visits for neutral reasons (oil, tyres), by month (as 2026-03) and model.
visits = Table(
    "visits",
    metadata,
    _shop(primary_key=True),
    Column("month", String(7), primary_key=True),
    Column("make", String(80), primary_key=True),
    Column("model", String(80), primary_key=True),
    Column("count", Integer, nullable=False),
    Column("updated", Moment, nullable=False),
    CheckConstraint("count > 0", name="count"),
)

# What was told the manager, once for each subject; `level` the cases behind it, `settled_level` those when
# somebody acknowledged or muted it. `document` holds the evidence.
alerts = Table(
    "alerts",
    metadata,
    _shop(primary_key=True),
    _id(primary_key=True),
    Column("kind", String(10), nullable=False),
    Column("state", String(12), nullable=False),
    Column("level", Integer, nullable=False),
    Column("settled_level", Integer),
    Column("raised", Moment, nullable=False),
    Column("seen", Moment, nullable=False),
    Column("settled", Moment),
    Column("by", String(80)),
    Column("reason", String(500), nullable=False, server_default=""),
    Column("document", Text, nullable=False),
    CheckConstraint("kind IN ('signal', 'trend', 'source', 'comebacks')", name="kind"),
    CheckConstraint("state IN ('open', 'acknowledged', 'muted', 'over')", name="state"),
)

# Addresses that hear of alerts, each with the secret its messages are signed with.
hooks = Table(
    "hooks",
    metadata,
    _shop(primary_key=True),
    _id(primary_key=True),
    Column("url", String(500), nullable=False),
    Column("secret", String(100), nullable=False),
    Column("made", Moment, nullable=False),
)

# Messages on their way: kept with what they tell of, gone when taken. `hook_id` is empty for a mail.
deliveries = Table(
    "deliveries",
    metadata,
    _shop(primary_key=True),
    _id(primary_key=True),
    Column("hook_id", String(64), nullable=False),
    Column("body", Text, nullable=False),
    Column("made", Moment, nullable=False),
    Column("due", Moment, nullable=False),
    Column("tries", Integer, nullable=False),
    Column("trouble", String(300), nullable=False, server_default=""),
    Index(None, "due"),
)

# One line that all who share write under, so that the numbers of `shared` have an order.
pools = Table(
    "pools",
    metadata,
    _id(primary_key=True),
    Column("latest", BigInteger, nullable=False),
)

# What other shops may see of a case, as its shop saw it before sharing; without a document it was withdrawn.
shared = Table(
    "shared",
    metadata,
    _id(primary_key=True),
    _shop(),
    _id("case_id"),
    Column("seq", BigInteger, nullable=False),
    Column("of_revision", BigInteger, nullable=False),
    Column("at", Moment, nullable=False),
    Column("document", Text),
    UniqueConstraint("shop_id", "case_id"),
    Index(None, "seq"),
)
