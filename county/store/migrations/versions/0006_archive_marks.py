"""The mark of a data store that holds an archive, opened to be read."""

import sqlalchemy as sa
from alembic import op

from county.store.engine import UtcTime

revision = "0006"
down_revision = "0005"


def upgrade() -> None:
    op.create_table(
        "archive_marks",
        sa.Column("election", sa.String, primary_key=True),
        sa.Column("as_of", UtcTime, nullable=False),
        sa.Column("digest", sa.String(64), nullable=False),
    )
