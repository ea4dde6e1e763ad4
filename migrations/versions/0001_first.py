"""The first schema: shops, their people, cases, photos, change log, receipts."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make all tables, those others point at first."""
    _shops()
    _cases()
    _changes()
    _members()
    _receipts()
    _devices()
    _enrolments()
    _photos()


def downgrade() -> None:
    """Drop all tables, those others point at last."""
    for table in ("photos", "enrolments", "devices", "receipts", "members", "changes", "cases", "shops"):
        op.drop_table(table)


def _shops() -> None:
    op.create_table(
        "shops",
        sa.Column("id", sa.String(length=64), nullable=False),
        sa.Column("name", sa.String(length=80), nullable=False),
        sa.Column("currency", sa.String(length=3), nullable=False),
        sa.Column("unit_system", sa.String(length=2), nullable=False),
        sa.Column("rate_per_hour", sa.Float(), nullable=False),
        sa.Column("time_zone", sa.String(length=80), nullable=False),
        sa.Column("made", sa.DateTime(timezone=True), nullable=False),
        sa.Column("latest", sa.BigInteger(), server_default="0", nullable=False),
        sa.CheckConstraint("unit_system IN ('si', 'us')", name=op.f("ck_shops_unit_system")),
        sa.CheckConstraint("latest >= 0", name=op.f("ck_shops_latest")),
        sa.CheckConstraint("rate_per_hour > 0", name=op.f("ck_shops_rate")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_shops")),
    )


def _cases() -> None:
    op.create_table(
        "cases",
        sa.Column("shop_id", sa.String(length=64), nullable=False),
        sa.Column("id", sa.String(length=64), nullable=False),
        sa.Column("revision", sa.BigInteger(), nullable=False),
        sa.Column("state", sa.String(length=10), nullable=False),
        sa.Column("opened", sa.DateTime(timezone=True), nullable=False),
        sa.Column("closed", sa.DateTime(timezone=True), nullable=True),
        sa.Column("updated", sa.DateTime(timezone=True), nullable=False),
        sa.Column("make", sa.String(length=200), nullable=False),
        sa.Column("model", sa.String(length=200), nullable=False),
        sa.Column("cause", sa.String(length=200), nullable=True),
        sa.Column("systems", sa.Text(), nullable=False),
        sa.Column("words", sa.Text(), nullable=False),
        sa.Column("origin", sa.String(length=64), nullable=True),
        sa.Column("document", sa.Text(), nullable=False),
        sa.CheckConstraint("state IN ('open', 'closed', 'unresolved')", name=op.f("ck_cases_state")),
        sa.CheckConstraint("revision > 0", name=op.f("ck_cases_revision")),
        sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name=op.f("fk_cases_shop_id_shops")),
        sa.PrimaryKeyConstraint("shop_id", "id", name=op.f("pk_cases")),
    )
    with op.batch_alter_table("cases", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_cases_shop_id_opened_id"), ["shop_id", "opened", "id"], unique=False
        )
        batch_op.create_index(batch_op.f("ix_cases_shop_id_origin"), ["shop_id", "origin"], unique=False)


def _changes() -> None:
    op.create_table(
        "changes",
        sa.Column("shop_id", sa.String(length=64), nullable=False),
        sa.Column("seq", sa.BigInteger(), autoincrement=False, nullable=False),
        sa.Column("kind", sa.String(length=10), nullable=False),
        sa.Column("entity", sa.String(length=64), nullable=False),
        sa.Column("op", sa.String(length=10), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.CheckConstraint("kind IN ('case', 'shop', 'member')", name=op.f("ck_changes_kind")),
        sa.CheckConstraint("op IN ('put', 'delete')", name=op.f("ck_changes_op")),
        sa.CheckConstraint("seq > 0", name=op.f("ck_changes_seq")),
        sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name=op.f("fk_changes_shop_id_shops")),
        sa.PrimaryKeyConstraint("shop_id", "seq", name=op.f("pk_changes")),
    )


def _members() -> None:
    op.create_table(
        "members",
        sa.Column("id", sa.String(length=64), nullable=False),
        sa.Column("shop_id", sa.String(length=64), nullable=False),
        sa.Column("name", sa.String(length=80), nullable=False),
        sa.Column("role", sa.String(length=10), nullable=False),
        sa.Column("skill", sa.Integer(), nullable=False),
        sa.Column("active", sa.Boolean(), nullable=False),
        sa.CheckConstraint("role IN ('technician', 'manager')", name=op.f("ck_members_role")),
        sa.CheckConstraint("skill BETWEEN 1 AND 4", name=op.f("ck_members_skill")),
        sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name=op.f("fk_members_shop_id_shops")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_members")),
    )
    with op.batch_alter_table("members", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_members_shop_id"), ["shop_id"], unique=False)


def _receipts() -> None:
    op.create_table(
        "receipts",
        sa.Column("shop_id", sa.String(length=64), nullable=False),
        sa.Column("key", sa.String(length=200), nullable=False),
        sa.Column("digest", sa.String(length=64), nullable=False),
        sa.Column("body", sa.LargeBinary(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name=op.f("fk_receipts_shop_id_shops")),
        sa.PrimaryKeyConstraint("shop_id", "key", name=op.f("pk_receipts")),
    )
    with op.batch_alter_table("receipts", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_receipts_at"), ["at"], unique=False)


def _devices() -> None:
    op.create_table(
        "devices",
        sa.Column("id", sa.String(length=64), nullable=False),
        sa.Column("member_id", sa.String(length=64), nullable=False),
        sa.Column("name", sa.String(length=80), nullable=False),
        sa.Column("token_hash", sa.String(length=64), nullable=False),
        sa.Column("made", sa.DateTime(timezone=True), nullable=False),
        sa.Column("last_seen", sa.DateTime(timezone=True), nullable=True),
        sa.Column("revoked", sa.Boolean(), nullable=False),
        sa.ForeignKeyConstraint(["member_id"], ["members.id"], name=op.f("fk_devices_member_id_members")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_devices")),
        sa.UniqueConstraint("token_hash", name=op.f("uq_devices_token_hash")),
    )
    with op.batch_alter_table("devices", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_devices_member_id"), ["member_id"], unique=False)


def _enrolments() -> None:
    op.create_table(
        "enrolments",
        sa.Column("code_hash", sa.String(length=64), nullable=False),
        sa.Column("member_id", sa.String(length=64), nullable=False),
        sa.Column("expires", sa.DateTime(timezone=True), nullable=False),
        sa.Column("used", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(["member_id"], ["members.id"], name=op.f("fk_enrolments_member_id_members")),
        sa.PrimaryKeyConstraint("code_hash", name=op.f("pk_enrolments")),
    )
    with op.batch_alter_table("enrolments", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_enrolments_expires"), ["expires"], unique=False)


def _photos() -> None:
    op.create_table(
        "photos",
        sa.Column("shop_id", sa.String(length=64), nullable=False),
        sa.Column("id", sa.String(length=64), nullable=False),
        sa.Column("case_id", sa.String(length=64), nullable=False),
        sa.Column("type", sa.String(length=20), nullable=False),
        sa.Column("data", sa.LargeBinary(), nullable=False),
        sa.CheckConstraint("type IN ('image/jpeg', 'image/png', 'image/webp')", name=op.f("ck_photos_type")),
        sa.ForeignKeyConstraint(
            ["shop_id", "case_id"],
            ["cases.shop_id", "cases.id"],
            name=op.f("fk_photos_shop_id_case_id_cases"),
            ondelete="CASCADE",
        ),
        sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name=op.f("fk_photos_shop_id_shops")),
        sa.PrimaryKeyConstraint("shop_id", "id", name=op.f("pk_photos")),
    )
    with op.batch_alter_table("photos", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_photos_shop_id_case_id"), ["shop_id", "case_id"], unique=False)
