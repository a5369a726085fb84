"""Devices' own logs and the documentation beside them: their very bytes, append-only."""

import sqlalchemy as sa
from alembic import op

from county.store.engine import UtcTime
from county.store.triggers import append_only

revision = "0005"
down_revision = "0004"


def upgrade() -> None:
    op.create_table(
        "device_logs",
        sa.Column("number", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("taken_in_at", UtcTime, nullable=False),
        sa.Column("name", sa.String, nullable=False),
        sa.Column("digest", sa.String(64), nullable=False),
        sa.Column("content", sa.LargeBinary, nullable=False),
        sa.UniqueConstraint("digest", name="uq_device_logs_digest"),
    )
    for statement in append_only(op.get_bind().dialect, "device_logs", "number", (("digest",),)):
        op.execute(statement)
