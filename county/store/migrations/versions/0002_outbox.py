"""The outbox: notices owed, and the messages that carry them."""

import sqlalchemy as sa
from alembic import op

from county.store.engine import UtcTime

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    op.create_table(
        "messages",
        sa.Column("message", sa.String, primary_key=True),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("person", sa.String, nullable=False),
        sa.Column("kind", sa.String, nullable=False),
        sa.Column("title", sa.String, nullable=False),
        sa.Column("body", sa.String, nullable=False),
        sa.Column("made_at", UtcTime, nullable=False),
        sa.Column("tries", sa.Integer, nullable=False),
        sa.Column("not_before", UtcTime, nullable=False),
        sa.Column("lease", sa.String, nullable=False),
        sa.Column("leased_until", UtcTime, nullable=False),
        sa.Column("outcome", sa.String, nullable=False),
        sa.Column("ended_at", UtcTime),
        sa.Column("why", sa.String, nullable=False),
        sa.UniqueConstraint("number", name="uq_messages_number"),
    )
    op.create_index("ix_messages_ended_at", "messages", ["ended_at"])
    op.create_table(
        "outbox",
        sa.Column("notice", sa.String, primary_key=True),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("case", sa.String, nullable=False),
        sa.Column("place", sa.String, nullable=False),
        sa.Column("person", sa.String, nullable=False),
        sa.Column("role", sa.String, nullable=False),
        sa.Column("channel", sa.String, nullable=False),
        sa.Column("kind", sa.String, nullable=False),
        sa.Column("danger", sa.Boolean, nullable=False),
        sa.Column("due_at", UtcTime, nullable=False),
        sa.Column("owed_at", UtcTime, nullable=False),
        sa.Column("title", sa.String, nullable=False),
        sa.Column("body", sa.String, nullable=False),
        sa.Column("line", sa.String, nullable=False),
        sa.Column("message", sa.String, sa.ForeignKey("messages.message")),
        sa.UniqueConstraint("number", name="uq_outbox_number"),
    )
    op.create_index("ix_outbox_case", "outbox", ["case"])
    op.create_index("ix_outbox_message", "outbox", ["message"])
