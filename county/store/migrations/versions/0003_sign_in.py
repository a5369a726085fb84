"""Signing in to the board: accounts of people, sessions, tries that failed (append-only), and the signing key."""

import sqlalchemy as sa
from alembic import op

from county.store.engine import UtcTime
from county.store.triggers import append_only

revision = "0003"
down_revision = "0002"


def upgrade() -> None:
    op.add_column("people", sa.Column("password", sa.String, nullable=False, server_default=""))
    op.add_column("people", sa.Column("must_change", sa.Boolean, nullable=False, server_default=sa.false()))
    op.add_column("people", sa.Column("known_as", sa.String, nullable=False, server_default=""))
    op.add_column("people", sa.Column("ended_at", UtcTime))
    op.create_index("ix_people_known_as", "people", ["known_as"])
    op.create_table(
        "sessions",
        sa.Column("session", sa.String(64), primary_key=True),
        sa.Column("person", sa.String, sa.ForeignKey("people.name"), nullable=False),
        sa.Column("begun_at", UtcTime, nullable=False),
        sa.Column("seen_at", UtcTime, nullable=False),
        sa.Column("ended_at", UtcTime),
        sa.Column("why", sa.String, nullable=False, server_default=""),
    )
    op.create_index("ix_sessions_person", "sessions", ["person"])
    op.create_table(
        "failed_sign_ins",
        sa.Column("number", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("tried_at", UtcTime, nullable=False),
        sa.Column("person", sa.String, nullable=False),
        sa.Column("address", sa.String, nullable=False),
        sa.Column("why", sa.String, nullable=False),
    )
    op.create_table(
        "signing_keys",
        sa.Column("name", sa.String, primary_key=True),
        sa.Column("secret", sa.String, nullable=False),
    )
    for statement in append_only(op.get_bind().dialect, "failed_sign_ins", "number", (("number",),)):
        op.execute(statement)
