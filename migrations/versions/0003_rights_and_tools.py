"""Tools a shop has not, rights its tests need, rights its members hold."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

COLUMNS = (("shops", "lacks"), ("shops", "rights"), ("members", "rights"))


def upgrade() -> None:
    """Give each shop and member empty lists."""
    for table, name in COLUMNS:
        op.add_column(table, sa.Column(name, sa.Text(), server_default="[]", nullable=False))


def downgrade() -> None:
    """Drop the lists."""
    for table, name in reversed(COLUMNS):
        op.drop_column(table, name)
