"""Cases shared between the shops of one service, with consent of shop and by case."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the tables, and let each shop say whether it shares: no, until it says so."""
    op.add_column("shops", sa.Column("shares", sa.Boolean(), nullable=False, server_default=sa.false()))
    op.create_table(
        "pools",
        sa.Column("id", sa.String(64), nullable=False),
        sa.Column("latest", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_pools")),
    )
    op.execute("INSERT INTO pools (id, latest) VALUES ('all', 0)")
    op.create_table(
        "shared",
        sa.Column("id", sa.String(64), nullable=False),
        sa.Column("shop_id", sa.String(64), nullable=False),
        sa.Column("case_id", sa.String(64), nullable=False),
        sa.Column("seq", sa.BigInteger(), nullable=False),
        sa.Column("of_revision", sa.BigInteger(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("document", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name=op.f("fk_shared_shop_id_shops")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_shared")),
        sa.UniqueConstraint("shop_id", "case_id", name=op.f("uq_shared_shop_id_case_id")),
    )
    op.create_index(op.f("ix_shared_seq"), "shared", ["seq"])


def downgrade() -> None:
    """Drop them."""
    op.drop_table("shared")
    op.drop_table("pools")
    op.drop_column("shops", "shares")
