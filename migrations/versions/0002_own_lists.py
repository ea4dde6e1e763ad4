"""The shop's own tests, causes and minutes, what its cases taught, and claims on long acts."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

BEFORE, AFTER = (
    "kind IN ('case', 'shop', 'member')",
    "kind IN ('case', 'shop', 'member', 'trade', 'tuning')",
)


def upgrade() -> None:
    """Make the new tables and let the change log tell of them."""
    _own_entries()
    _tunings()
    _claims()
    _log(kinds=AFTER, before=sa.String(64), after=sa.String(200))


def downgrade() -> None:
    """Drop the new tables; the log keeps its numbers, its new lines become ones about the shop."""
    op.execute(
        "UPDATE changes SET kind = 'shop', op = 'put', entity = shop_id WHERE kind IN ('trade', 'tuning')"
    )
    _log(kinds=BEFORE, before=sa.String(200), after=sa.String(64))
    for table in ("claims", "tunings", "own_entries"):
        op.drop_table(table)


def _log(*, kinds: str, before: sa.String, after: sa.String) -> None:
    with op.batch_alter_table("changes", schema=None) as batch_op:
        batch_op.drop_constraint(batch_op.f("ck_changes_kind"), type_="check")
        batch_op.create_check_constraint(batch_op.f("ck_changes_kind"), kinds)
        batch_op.alter_column("entity", existing_type=before, type_=after, existing_nullable=False)


def _own_entries() -> None:
    op.create_table(
        "own_entries",
        sa.Column("shop_id", sa.String(length=64), nullable=False),
        sa.Column("kind", sa.String(length=10), nullable=False),
        sa.Column("id", sa.String(length=200), nullable=False),
        sa.Column("made", sa.DateTime(timezone=True), nullable=False),
        sa.Column("updated", sa.DateTime(timezone=True), nullable=False),
        sa.Column("document", sa.Text(), nullable=False),
        sa.CheckConstraint("kind IN ('test', 'cause', 'minutes')", name=op.f("ck_own_entries_kind")),
        sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name=op.f("fk_own_entries_shop_id_shops")),
        sa.PrimaryKeyConstraint("shop_id", "kind", "id", name=op.f("pk_own_entries")),
    )


def _tunings() -> None:
    op.create_table(
        "tunings",
        sa.Column("shop_id", sa.String(length=64), nullable=False),
        sa.Column("version", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("revision", sa.BigInteger(), nullable=False),
        sa.Column("closed", sa.Integer(), nullable=False),
        sa.Column("asked", sa.Integer(), nullable=False),
        sa.Column("shipped_loss", sa.Float(), nullable=True),
        sa.Column("tuned_loss", sa.Float(), nullable=True),
        sa.Column("adopted", sa.Boolean(), nullable=False),
        sa.Column("document", sa.Text(), nullable=False),
        sa.CheckConstraint("version > 0", name=op.f("ck_tunings_version")),
        sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name=op.f("fk_tunings_shop_id_shops")),
        sa.PrimaryKeyConstraint("shop_id", "version", name=op.f("pk_tunings")),
    )


def _claims() -> None:
    op.create_table(
        "claims",
        sa.Column("shop_id", sa.String(length=64), nullable=False),
        sa.Column("act", sa.String(length=20), nullable=False),
        sa.Column("holder", sa.String(length=64), nullable=False),
        sa.Column("until", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name=op.f("fk_claims_shop_id_shops")),
        sa.PrimaryKeyConstraint("shop_id", "act", name=op.f("pk_claims")),
    )
