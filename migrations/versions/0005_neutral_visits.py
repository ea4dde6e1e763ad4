"""Visits for neutral reasons, by month and model."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the table."""
    op.create_table(
        "visits",
        sa.Column("shop_id", sa.String(64), nullable=False),
        sa.Column("month", sa.String(7), nullable=False),
        sa.Column("make", sa.String(80), nullable=False),
        sa.Column("model", sa.String(80), nullable=False),
        sa.Column("count", sa.Integer(), nullable=False),
        sa.Column("updated", sa.DateTime(timezone=True), nullable=False),
        sa.CheckConstraint("count > 0", name=op.f("ck_visits_count")),
        sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name=op.f("fk_visits_shop_id_shops")),
        sa.PrimaryKeyConstraint("shop_id", "month", "make", "model", name=op.f("pk_visits")),
    )


def downgrade() -> None:
    """Drop the table."""
    op.drop_table("visits")
