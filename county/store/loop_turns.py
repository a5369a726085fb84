"""When each loop beside the endpoint last came round: one row a loop, whichever process runs it."""

from collections.abc import Mapping
from datetime import datetime

from sqlalchemy import Connection, insert, select, update

from county.store.locks import LOOP_TURNS, hold
from county.store.schema import loop_turns


def keep(connection: Connection, turned: Mapping[str, datetime]) -> None:
    """Keep the latest turn of each loop; an earlier one than is known changes nothing."""
    hold(connection, LOOP_TURNS)
    known = read(connection)
    for loop, at in turned.items():
        if loop not in known:
            connection.execute(insert(loop_turns), {"loop": loop, "turned_at": at})
        elif at > known[loop]:
            connection.execute(update(loop_turns).where(loop_turns.c.loop == loop), {"turned_at": at})


def read(connection: Connection) -> dict[str, datetime]:
    """When each loop last came round (aware UTC, by the real clock); nothing where no endpoint has run yet."""
    return {row.loop: row.turned_at for row in connection.execute(select(loop_turns))}
