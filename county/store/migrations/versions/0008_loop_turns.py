"""When each loop beside the endpoint last came round."""

import sqlalchemy as sa
from alembic import op

from county.store.engine import UtcTime

revision = "0008"
down_revision = "0007"


def upgrade() -> None:
    op.create_table(
        "loop_turns",
        sa.Column("loop", sa.String, primary_key=True),
        sa.Column("turned_at", UtcTime, nullable=False),
    )
