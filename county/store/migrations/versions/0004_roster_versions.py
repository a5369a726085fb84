"""Every roster ever loaded, kept for the review (append-only); a place's other ids."""

import sqlalchemy as sa
from alembic import op

from county.store.triggers import append_only

revision = "0004"
down_revision = "0003"


def upgrade() -> None:
    op.create_table(
        "roster_versions",
        sa.Column("number", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("digest", sa.String(64), nullable=False),
        sa.Column("content", sa.LargeBinary, nullable=False),
        sa.UniqueConstraint("digest", name="uq_roster_versions_digest"),
    )
    for statement in append_only(op.get_bind().dialect, "roster_versions", "number", (("digest",),)):
        op.execute(statement)
    op.add_column("places", sa.Column("also", sa.JSON, nullable=False, server_default="[]"))
