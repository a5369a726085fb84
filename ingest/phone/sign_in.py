"""Who opens a page: the key from the card once, then a cookie that no script and no other site can use."""

from collections.abc import Callable
from dataclasses import dataclass
from urllib.parse import quote, urlsplit

from starlette.requests import Request
from starlette.responses import Response

from county.domain.senders import Sender
from county.errors import NotAllowed, UnknownKey
from ingest.senders import Senders

KEPT_FOR = 4 * 24 * 3600
LONGEST_KEY = 200


class NoKey(UnknownKey):
    """Nobody has said a key yet."""


class Elsewhere(NotAllowed):
    """A form that another site sent."""


@dataclass(slots=True)
class SignIn:
    """Finds the sender behind a key, and whether it opens this page.

    `opens` says whether a sender's key opens the page of this name; `under` is the path that the pages lie under.
    """

    senders: Senders
    cookie: str
    under: str
    opens: Callable[[Sender, str], bool]

    async def by_key(self, request: Request, key: str, name: str) -> Sender:
        """The holder of a key that opens this page. Raises NoKey, UnknownKey, NotAllowed, or Busy to a guesser."""
        key = key.strip()
        if not key:
            raise NoKey("a key is needed")
        sender = await self.senders.with_key(request, key[:LONGEST_KEY], rovers=True)
        if not self.opens(sender, name):
            raise NotAllowed(f"this is the key of {sender.whose}, and opens nothing here")
        return sender

    async def by_cookie(self, request: Request, name: str) -> Sender:
        """The same by the cookie that `remember` gave."""
        return await self.by_key(request, request.cookies.get(self.cookie, ""), name)

    def remember(self, response: Response, request: Request, key: str, name: str) -> None:
        """Have the browser keep the key for the day, and send it to this page only."""
        response.set_cookie(
            self.cookie,
            key.strip(),
            max_age=KEPT_FOR,
            path=f"{self.under}{quote(name, safe='')}",
            secure=request.url.scheme == "https",
            httponly=True,
            samesite="strict",
        )


def own_page_only(request: Request) -> None:
    """Raises Elsewhere where a form was not sent by a page of this very address."""
    origin = request.headers.get("origin")
    if origin is not None and urlsplit(origin).netloc != request.headers.get("host", ""):
        raise Elsewhere("this form was sent by another site")
    if request.headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none"):
        raise Elsewhere("this form was sent by another site")
