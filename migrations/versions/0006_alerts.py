"""Alerts, the addresses that hear of them, and messages on their way."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the tables."""
    op.create_table(
        "alerts",
        *_keys(),
        sa.Column("kind", sa.String(10), nullable=False),
        sa.Column("state", sa.String(12), nullable=False),
        sa.Column("level", sa.Integer(), nullable=False),
        sa.Column("settled_level", sa.Integer()),
        _moment("raised"),
        _moment("seen"),
        _moment("settled", nullable=True),
        sa.Column("by", sa.String(80)),
        sa.Column("reason", sa.String(500), nullable=False, server_default=""),
        sa.Column("document", sa.Text(), nullable=False),
        sa.CheckConstraint("kind IN ('signal', 'trend', 'source', 'comebacks')", name=op.f("ck_alerts_kind")),
        sa.CheckConstraint(
            "state IN ('open', 'acknowledged', 'muted', 'over')", name=op.f("ck_alerts_state")
        ),
        *_places("alerts"),
    )
    op.create_table(
        "hooks",
        *_keys(),
        sa.Column("url", sa.String(500), nullable=False),
        sa.Column("secret", sa.String(100), nullable=False),
        _moment("made"),
        *_places("hooks"),
    )
    op.create_table(
        "deliveries",
        *_keys(),
        sa.Column("hook_id", sa.String(64), nullable=False),
        sa.Column("body", sa.Text(), nullable=False),
        _moment("made"),
        _moment("due"),
        sa.Column("tries", sa.Integer(), nullable=False),
        sa.Column("trouble", sa.String(300), nullable=False, server_default=""),
        *_places("deliveries"),
    )
    op.create_index(op.f("ix_deliveries_due"), "deliveries", ["due"])


def downgrade() -> None:
    """Drop them."""
    op.drop_index(op.f("ix_deliveries_due"), table_name="deliveries")
    for name in ("deliveries", "hooks", "alerts"):
        op.drop_table(name)


def _keys() -> tuple[sa.Column[str], sa.Column[str]]:
    return sa.Column("shop_id", sa.String(64), nullable=False), sa.Column("id", sa.String(64), nullable=False)


def _moment(name: str, *, nullable: bool = False) -> sa.Column[object]:
    return sa.Column(name, sa.DateTime(timezone=True), nullable=nullable)


def _places(table: str) -> tuple[sa.ForeignKeyConstraint, sa.PrimaryKeyConstraint]:
    shop = sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name=op.f(f"fk_{table}_shop_id_shops"))
    return shop, sa.PrimaryKeyConstraint("shop_id", "id", name=op.f(f"pk_{table}"))
