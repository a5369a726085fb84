"""Who sends: the key of a request looked up, and remembered for a moment so that not every report asks the database."""

import asyncio
import hashlib
import time
from collections.abc import Callable

from starlette.requests import Request

from county import desk
from county.desk import Sender
from county.errors import NotAllowed, UnknownKey
from county.guesses import Guesses
from county.wiring import Office

REMEMBERED_FOR = 1.0
MOST_REMEMBERED = 20_000


class Senders:
    """Keys and their holders; whoever guesses is slowed, at whichever door.

    A revoked key is refused within a second; an unknown one is never remembered as anybody's.
    """

    def __init__(self, office: Office, timer: Callable[[], float] = time.monotonic) -> None:
        self._office = office
        self._timer = timer
        self._known: dict[str, tuple[Sender, float]] = {}
        self._good: set[str] = set()
        self._guesses = Guesses(timer=timer)

    async def of(self, request: Request, *, rovers: bool = False) -> Sender:
        """The holder of the key in a request's Authorization header. Raises as `with_key` does."""
        scheme, _, key = request.headers.get("authorization", "").strip().partition(" ")
        return await self.with_key(request, key if scheme.lower() == "bearer" else "", rovers=rovers)

    async def with_key(self, request: Request, key: str, *, rovers: bool = False) -> Sender:
        """The holder of a key that a request shows. Raises UnknownKey, Busy to a guesser, NotAllowed if a rover's.

        Only the doors that say so take the keys of `rovers`, so that no other has to think of them.
        """
        key = key.strip()
        if not key:
            raise UnknownKey("send your key as `Authorization: Bearer KEY`")
        sender = await self._holder(key, request.client.host if request.client else "")
        if sender.rover is not None and not rovers:
            raise NotAllowed(f"the key of {sender.whose} acts on its own cases, and does nothing here")
        return sender

    async def _holder(self, key: str, address: str) -> Sender:
        known = self._known.get(key)
        if known is not None and self._timer() < known[1]:
            return known[0]
        self._known.pop(key, None)
        mark = hashlib.sha256(key.encode("utf-8", "replace")).hexdigest()
        if mark not in self._good:
            self._guesses.may_try(address)
        try:
            sender = await asyncio.to_thread(desk.find_sender, self._office, key)
        except UnknownKey:
            self._good.discard(mark)
            self._guesses.was_wrong(address)
            raise
        for remembered in (self._known, self._good):
            if len(remembered) >= MOST_REMEMBERED:
                remembered.clear()
        self._known[key] = (sender, self._timer() + REMEMBERED_FOR)
        self._good.add(mark)
        return sender
