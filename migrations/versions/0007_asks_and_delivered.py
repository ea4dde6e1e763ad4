"""Facts asked of the authors of cases, and what became of messages."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the tables."""
    op.create_table(
        "asks",
        sa.Column("shop_id", sa.String(64), nullable=False),
        sa.Column("case_id", sa.String(64), nullable=False),
        sa.Column("fact", sa.String(40), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("by", sa.String(80)),
        sa.Column("unknown", sa.Boolean(), nullable=False),
        _shop("asks"),
        sa.ForeignKeyConstraint(
            ["shop_id", "case_id"],
            ["cases.shop_id", "cases.id"],
            ondelete="CASCADE",
            name=op.f("fk_asks_shop_id_cases"),
        ),
        sa.PrimaryKeyConstraint("shop_id", "case_id", "fact", name=op.f("pk_asks")),
    )
    op.create_table(
        "delivered",
        sa.Column("shop_id", sa.String(64), nullable=False),
        sa.Column("id", sa.String(64), nullable=False),
        sa.Column("hook_id", sa.String(64), nullable=False),
        sa.Column("title", sa.String(200), nullable=False),
        sa.Column("made", sa.DateTime(timezone=True), nullable=False),
        sa.Column("ended", sa.DateTime(timezone=True), nullable=False),
        sa.Column("tries", sa.Integer(), nullable=False),
        sa.Column("trouble", sa.String(300), nullable=False, server_default=""),
        _shop("delivered"),
        sa.PrimaryKeyConstraint("shop_id", "id", name=op.f("pk_delivered")),
    )
    op.create_index(op.f("ix_delivered_shop_id_hook_id_ended"), "delivered", ["shop_id", "hook_id", "ended"])


def downgrade() -> None:
    """Drop them."""
    op.drop_index(op.f("ix_delivered_shop_id_hook_id_ended"), table_name="delivered")
    for name in ("delivered", "asks"):
        op.drop_table(name)


def _shop(table: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name=op.f(f"fk_{table}_shop_id_shops"))
