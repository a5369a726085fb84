"""Who sends: the key of a request looked up, and remembered for a moment so that not every report asks the database."""

import asyncio
import time
from collections.abc import Callable

from county import desk
from county.desk import Sender
from county.errors import NotAllowed, UnknownKey
from county.wiring import Office

REMEMBERED_FOR = 1.0
MOST_REMEMBERED = 20_000


class Senders:
    """Keys and their holders. A revoked key is refused within a second; an unknown one is never remembered."""

    def __init__(self, office: Office, timer: Callable[[], float] = time.monotonic) -> None:
        self._office = office
        self._timer = timer
        self._known: dict[str, tuple[Sender, float]] = {}

    async def find(self, authorization: str | None, *, rovers: bool = False) -> Sender:
        """The holder of the key in an Authorization header. Raises UnknownKey, or NotAllowed where it is a rover's.

        Only the doors that say so take the keys of `rovers`, so that no other has to think of them.
        """
        sender = await self._holder(authorization)
        if sender.rover is not None and not rovers:
            raise NotAllowed(f"the key of {sender.whose} acts on its own cases, and does nothing here")
        return sender

    async def _holder(self, authorization: str | None) -> Sender:
        scheme, _, token = (authorization or "").strip().partition(" ")
        token = token.strip()
        if scheme.lower() != "bearer" or not token:
            raise UnknownKey("send your key as `Authorization: Bearer KEY`")
        known = self._known.get(token)
        if known is not None and self._timer() < known[1]:
            return known[0]
        self._known.pop(token, None)
        sender = await asyncio.to_thread(desk.find_sender, self._office, token)
        if len(self._known) >= MOST_REMEMBERED:
            self._known.clear()
        self._known[token] = (sender, self._timer() + REMEMBERED_FOR)
        return sender
