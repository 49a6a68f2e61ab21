"""The day as first kept

Revision: 0001. Follows: .
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op


revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """The day as first kept."""
    op.create_table(
        "days",
        sa.Column("id", sa.String(length=200), nullable=False),
        sa.Column("title", sa.Text(), nullable=False),
        sa.Column("created_ms", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_days")),
    )
    op.create_table(
        "server",
        sa.Column("id", sa.BigInteger(), autoincrement=False, nullable=False),
        sa.Column("epoch", sa.Text(), nullable=False),
        sa.Column("secret", sa.LargeBinary(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_server")),
    )
    op.create_table(
        "day_sets",
        sa.Column("day_id", sa.String(length=200), nullable=False),
        sa.Column("set_name", sa.String(length=20), nullable=False),
        sa.Column("reach", sa.BigInteger(), nullable=False),
        sa.Column("count", sa.BigInteger(), nullable=False),
        sa.Column("digests_xor", sa.LargeBinary(), nullable=False),
        sa.ForeignKeyConstraint(["day_id"], ["days.id"], name=op.f("fk_day_sets_day_id")),
        sa.PrimaryKeyConstraint("day_id", "set_name", name=op.f("pk_day_sets")),
    )
    op.create_table(
        "devices",
        sa.Column("id", sa.String(length=40), nullable=False),
        sa.Column("day_id", sa.String(length=200), nullable=False),
        sa.Column("person", sa.String(length=200), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("token_hash", sa.LargeBinary(length=32), nullable=False),
        sa.Column("may_hold_health", sa.Boolean(), nullable=False),
        sa.Column("joined_ms", sa.BigInteger(), nullable=False),
        sa.Column("heard_ms", sa.BigInteger(), nullable=False),
        sa.Column("revoked_ms", sa.BigInteger(), nullable=True),
        sa.ForeignKeyConstraint(["day_id"], ["days.id"], name=op.f("fk_devices_day_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_devices")),
        sa.UniqueConstraint("token_hash", name=op.f("uq_devices_token_hash")),
    )
    op.create_index(op.f("ix_devices_day_id"), "devices", ["day_id"], unique=False)
    op.create_table(
        "edits",
        sa.Column("day_id", sa.String(length=200), nullable=False),
        sa.Column("set_name", sa.String(length=20), nullable=False),
        sa.Column("order_number", sa.BigInteger(), autoincrement=False, nullable=False),
        sa.Column("edit_id", sa.String(length=200), nullable=False),
        sa.Column("text", sa.LargeBinary(), nullable=False),
        sa.Column("kind", sa.String(length=40), nullable=False),
        sa.Column("record", sa.String(length=200), nullable=False),
        sa.Column("author", sa.String(length=200), nullable=False),
        sa.Column("incarnation", sa.String(length=40), nullable=False),
        sa.Column("counter", sa.BigInteger(), nullable=False),
        sa.Column("received_ms", sa.BigInteger(), nullable=False),
        sa.Column("carrier", sa.String(length=40), nullable=False),
        sa.ForeignKeyConstraint(["day_id"], ["days.id"], name=op.f("fk_edits_day_id")),
        sa.PrimaryKeyConstraint("day_id", "set_name", "order_number", name=op.f("pk_edits")),
    )
    op.create_index(op.f("ix_edits_day_id_author_kind"), "edits", ["day_id", "author", "kind"], unique=False)
    op.create_index(op.f("ix_edits_day_id_kind_record"), "edits", ["day_id", "kind", "record"], unique=False)
    op.create_index(
        op.f("ix_edits_day_id_set_name_incarnation_counter"),
        "edits",
        ["day_id", "set_name", "incarnation", "counter"],
        unique=False,
    )
    op.create_index("uq_edits_day_id_edit_id", "edits", ["day_id", "edit_id"], unique=True)
    op.create_table(
        "incarnation_marks",
        sa.Column("day_id", sa.String(length=200), nullable=False),
        sa.Column("set_name", sa.String(length=20), nullable=False),
        sa.Column("incarnation", sa.String(length=40), nullable=False),
        sa.Column("count", sa.BigInteger(), nullable=False),
        sa.Column("gapless", sa.BigInteger(), nullable=False),
        sa.Column("digests_xor", sa.LargeBinary(), nullable=False),
        sa.ForeignKeyConstraint(["day_id"], ["days.id"], name=op.f("fk_incarnation_marks_day_id")),
        sa.PrimaryKeyConstraint("day_id", "set_name", "incarnation", name=op.f("pk_incarnation_marks")),
    )
    op.create_table(
        "invitations",
        sa.Column("id", sa.String(length=40), nullable=False),
        sa.Column("day_id", sa.String(length=200), nullable=False),
        sa.Column("code_hash", sa.LargeBinary(length=32), nullable=False),
        sa.Column("departments", sa.Text(), nullable=False),
        sa.Column("is_head", sa.Boolean(), nullable=False),
        sa.Column("uses_left", sa.BigInteger(), nullable=False),
        sa.Column("expires_ms", sa.BigInteger(), nullable=False),
        sa.Column("made_by", sa.Text(), nullable=False),
        sa.Column("made_ms", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(["day_id"], ["days.id"], name=op.f("fk_invitations_day_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_invitations")),
        sa.UniqueConstraint("code_hash", name=op.f("uq_invitations_code_hash")),
    )
    op.create_index(op.f("ix_invitations_day_id"), "invitations", ["day_id"], unique=False)
    op.create_table(
        "incarnations",
        sa.Column("day_id", sa.String(length=200), nullable=False),
        sa.Column("incarnation", sa.String(length=40), nullable=False),
        sa.Column("device_id", sa.String(length=40), nullable=False),
        sa.ForeignKeyConstraint(["day_id"], ["days.id"], name=op.f("fk_incarnations_day_id")),
        sa.ForeignKeyConstraint(["device_id"], ["devices.id"], name=op.f("fk_incarnations_device_id")),
        sa.PrimaryKeyConstraint("day_id", "incarnation", name=op.f("pk_incarnations")),
    )
    op.create_table(
        "read_places",
        sa.Column("device_id", sa.String(length=40), nullable=False),
        sa.Column("set_name", sa.String(length=20), nullable=False),
        sa.Column("place", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(["device_id"], ["devices.id"], name=op.f("fk_read_places_device_id")),
        sa.PrimaryKeyConstraint("device_id", "set_name", name=op.f("pk_read_places")),
    )
