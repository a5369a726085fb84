"""The first tables: the ledger and what was set aside (append-only), the roster, keys and people."""

import sqlalchemy as sa
from alembic import op

from county.store.engine import UtcTime
from county.store.triggers import append_only

revision = "0001"
down_revision = None


def upgrade() -> None:
    _kept()
    _roster()
    _who()
    for statement in (
        *append_only(op.get_bind().dialect, "ledger", "seq", (("key", "place"), ("key", "sender"))),
        *append_only(op.get_bind().dialect, "set_aside", "number", (("digest",),)),
    ):
        op.execute(statement)


def _kept() -> None:
    op.create_table(
        "ledger",
        sa.Column("seq", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("key", sa.String, nullable=False),
        sa.Column("place", sa.String, nullable=False),
        sa.Column("sender", sa.String, nullable=False),
        sa.Column("kind", sa.String, nullable=False),
        sa.Column("content", sa.String(64), nullable=False),
        sa.Column("happened_at", UtcTime, nullable=False),
        sa.Column("received_at", UtcTime, nullable=False),
        sa.Column("entry", sa.String, nullable=False),
        sa.Column("previous", sa.String(64), nullable=False),
        sa.Column("digest", sa.String(64), nullable=False),
        sa.UniqueConstraint("key", "place", name="uq_ledger_key_place"),
        sa.UniqueConstraint("key", "sender", name="uq_ledger_key_sender"),
    )
    op.create_table(
        "set_aside",
        sa.Column("number", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("set_aside_at", UtcTime, nullable=False),
        sa.Column("key", sa.String, nullable=False),
        sa.Column("sender", sa.String, nullable=False),
        sa.Column("door", sa.String, nullable=False),
        sa.Column("reason", sa.String, nullable=False),
        sa.Column("problems", sa.JSON, nullable=False),
        sa.Column("raw", sa.String, nullable=False),
        sa.Column("source", sa.String, nullable=False),
        sa.Column("digest", sa.String(64), nullable=False),
        sa.UniqueConstraint("digest", name="uq_set_aside_digest"),
    )


def _roster() -> None:
    op.create_table(
        "places",
        sa.Column("place", sa.String, primary_key=True),
        sa.Column("name", sa.String, nullable=False),
        sa.Column("address", sa.String, nullable=False),
        sa.Column("city", sa.String, nullable=False),
        sa.Column("latitude", sa.Float),
        sa.Column("longitude", sa.Float),
        sa.Column("opens", sa.Time),
        sa.Column("closes", sa.Time),
        sa.Column("zone", sa.String, nullable=False),
        sa.Column("phone", sa.String, nullable=False),
        sa.Column("registered", sa.Integer),
        sa.Column("ballots_delivered", sa.Integer),
        sa.Column("time_zone", sa.String, nullable=False),
        sa.Column("route", sa.String, nullable=False),
        sa.Column("serves", sa.String, nullable=False),
    )
    op.create_table(
        "precincts",
        sa.Column("precinct", sa.String, primary_key=True),
        sa.Column("name", sa.String, nullable=False),
        sa.Column("place", sa.String, nullable=False),
        sa.Column("registered", sa.Integer),
    )
    op.create_table(
        "devices",
        sa.Column("device", sa.String, primary_key=True),
        sa.Column("place", sa.String, sa.ForeignKey("places.place"), nullable=False),
        sa.Column("type", sa.String, nullable=False),
        sa.Column("serial", sa.String, nullable=False),
        sa.Column("model", sa.String, nullable=False),
        sa.Column("protective_counter", sa.Integer),
    )
    op.create_table(
        "seals",
        sa.Column("device", sa.String, sa.ForeignKey("devices.device"), primary_key=True),
        sa.Column("position", sa.String, primary_key=True),
        sa.Column("number", sa.String, nullable=False),
    )
    op.create_table(
        "rovers",
        sa.Column("rover", sa.String, primary_key=True),
        sa.Column("name", sa.String, nullable=False),
        sa.Column("zone", sa.String, nullable=False),
        sa.Column("phone", sa.String, nullable=False),
        sa.Column("latitude", sa.Float),
        sa.Column("longitude", sa.Float),
        sa.Column("skills", sa.JSON, nullable=False),
        sa.Column("carries", sa.JSON, nullable=False),
        sa.Column("starts", sa.Time),
        sa.Column("ends", sa.Time),
    )


def _who() -> None:
    op.create_table(
        "keys",
        sa.Column("key_hash", sa.String(64), primary_key=True),
        sa.Column("holder", sa.String, nullable=False),
        sa.Column("issued_at", UtcTime, nullable=False),
        sa.Column("revoked_at", UtcTime),
    )
    op.create_index("ix_keys_holder", "keys", ["holder"])
    op.create_table(
        "people",
        sa.Column("name", sa.String, primary_key=True),
        sa.Column("role", sa.String, nullable=False),
        sa.Column("added_at", UtcTime, nullable=False),
    )
