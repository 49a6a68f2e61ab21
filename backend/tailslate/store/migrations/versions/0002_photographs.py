"""Photographs beside the edits

Revision: 0002. Follows: 0001.
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op


revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Photographs beside the edits."""
    op.create_table(
        "photographs",
        sa.Column("day_id", sa.String(length=200), nullable=False),
        sa.Column("digest", sa.String(length=64), nullable=False),
        sa.Column("media_type", sa.String(length=20), nullable=False),
        sa.Column("size_bytes", sa.BigInteger(), nullable=False),
        sa.Column("octets", sa.LargeBinary(), nullable=False),
        sa.Column("received_ms", sa.BigInteger(), nullable=False),
        sa.Column("carrier", sa.String(length=40), nullable=False),
        sa.Column("is_parked", sa.Boolean(), nullable=False),
        sa.ForeignKeyConstraint(["day_id"], ["days.id"], name=op.f("fk_photographs_day_id")),
        sa.PrimaryKeyConstraint("day_id", "digest", name=op.f("pk_photographs")),
    )
    op.create_table(
        "photograph_parts",
        sa.Column("day_id", sa.String(length=200), nullable=False),
        sa.Column("digest", sa.String(length=64), nullable=False),
        sa.Column("device_id", sa.String(length=40), nullable=False),
        sa.Column("start", sa.BigInteger(), autoincrement=False, nullable=False),
        sa.Column("octets", sa.LargeBinary(), nullable=False),
        sa.Column("received_ms", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(["day_id"], ["days.id"], name=op.f("fk_photograph_parts_day_id")),
        sa.ForeignKeyConstraint(["device_id"], ["devices.id"], name=op.f("fk_photograph_parts_device_id")),
        sa.PrimaryKeyConstraint("day_id", "digest", "device_id", "start", name=op.f("pk_photograph_parts")),
    )
