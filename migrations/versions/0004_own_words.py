"""Words of the shop's own among its lists."""

from __future__ import annotations

from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None

TABLE, NAME = "own_entries", "kind"


def upgrade() -> None:
    """Let an entry be a word."""
    _check("kind IN ('test', 'cause', 'minutes', 'word')")


def downgrade() -> None:
    """Drop the words, and let no entry be one."""
    op.execute("DELETE FROM own_entries WHERE kind = 'word'")
    _check("kind IN ('test', 'cause', 'minutes')")


def _check(rule: str) -> None:
    with op.batch_alter_table(TABLE) as table:
        table.drop_constraint(op.f(f"ck_{TABLE}_{NAME}"), type_="check")
        table.create_check_constraint(op.f(f"ck_{TABLE}_{NAME}"), rule)
