"""Locks that make writers wait for one another, held to the end of the transaction."""

from sqlalchemy import Connection, text

HEAD = 7_207_001
MIGRATING = 7_207_002
GATHERING = 7_207_003
SIGN_INS = 7_207_004
LOOP_TURNS = 7_207_005


def hold(connection: Connection, lock: int) -> None:
    """Wait for a lock on PostgreSQL; on SQLite a writing transaction already holds the only one there is."""
    if connection.dialect.name == "postgresql":
        connection.execute(text("SELECT pg_advisory_xact_lock(:lock)"), {"lock": lock})
