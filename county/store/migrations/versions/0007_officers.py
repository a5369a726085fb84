"""How many officers each place has, where the roster says so."""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"


def upgrade() -> None:
    op.add_column("places", sa.Column("officers", sa.Integer))
