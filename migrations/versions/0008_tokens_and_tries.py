"""Tokens that are renewed, wrong tries counted for all processes together, and who changed what."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0006"
branch_labels = None
depends_on = None
MOMENT = sa.DateTime(timezone=True)
ADDED = (
    ("token_made", MOMENT),
    ("next_hash", sa.String(64)),
    ("past_hash", sa.String(64)),
    ("past_until", MOMENT),
)


def upgrade() -> None:
    """Add them; a token that is there was made with its device."""
    for name, kind in ADDED:
        op.add_column("devices", sa.Column(name, kind))
    op.execute("UPDATE devices SET token_made = made")
    for name in ("next_hash", "past_hash"):
        op.create_index(op.f(f"ix_devices_{name}"), "devices", [name])
    op.create_table(
        "wrong_tries",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("key", sa.String(64), nullable=False),
        sa.Column("at", MOMENT, nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_wrong_tries")),
    )
    op.create_index(op.f("ix_wrong_tries_key_at"), "wrong_tries", ["key", "at"])
    op.create_index(op.f("ix_wrong_tries_at"), "wrong_tries", ["at"])
    op.add_column("shops", sa.Column("acts", sa.BigInteger(), server_default="0", nullable=False))
    op.create_table(
        "acts",
        sa.Column("shop_id", sa.String(64), nullable=False),
        sa.Column("seq", sa.BigInteger(), autoincrement=False, nullable=False),
        sa.Column("at", MOMENT, nullable=False),
        sa.Column("member_id", sa.String(64), nullable=False),
        sa.Column("device_id", sa.String(64), nullable=False),
        sa.Column("kind", sa.String(20), nullable=False),
        sa.Column("entity", sa.String(200), nullable=False),
        sa.Column("done", sa.String(20), nullable=False),
        sa.Column("fields", sa.String(500), nullable=False),
        sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name=op.f("fk_acts_shop_id_shops")),
        sa.PrimaryKeyConstraint("shop_id", "seq", name=op.f("pk_acts")),
    )
    op.create_index(op.f("ix_acts_at"), "acts", ["at"])


def downgrade() -> None:
    """Drop them; a device that has not used its new token keeps its old one."""
    op.drop_table("acts")
    op.drop_column("shops", "acts")
    op.drop_table("wrong_tries")
    for name in ("next_hash", "past_hash"):
        op.drop_index(op.f(f"ix_devices_{name}"), "devices")
    for name, _ in reversed(ADDED):
        op.drop_column("devices", name)
