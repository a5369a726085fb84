"""Stands in front of everything the board serves, sockets too: whoever is not signed in reaches the door and no more.

Headers that say who somebody is are taken off what comes in and written anew here, from the session alone.
"""

import asyncio
from collections.abc import Mapping
from types import MappingProxyType
from urllib.parse import quote

from starlette.concurrency import run_in_threadpool
from starlette.requests import HTTPConnection
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from county.domain.people import SignedIn
from county.domain.roles import first_page
from dashboard.people_now import PeopleNow
from dashboard.sign_in.cookies import Cookies
from dashboard.sign_in.hosts import Hosts

SIGN_IN, PASSWORD, SIGN_OUT = "/sign-in", "/sign-in/password", "/sign-out"
TO_PROVIDER, BACK, LOOK, ICON = "/sign-in/provider", "/sign-in/back", "/sign-in/look.css", "/sign-in/icon.png"
HEALTH = "/_stcore/health"
OPEN = frozenset({SIGN_IN, TO_PROVIDER, BACK, LOOK, ICON, HEALTH})
"""All that anybody reaches unsigned."""
BEFORE_CHANGE = frozenset({*OPEN, PASSWORD, SIGN_OUT})
"""All that is reached with a first password that was not changed yet."""
OWN_HEADERS = b"x-pollrise-"
SESSION_HEADER = "x-pollrise-session"
LOOK_SECONDS = 1.0
GONE = 4401
"""The code with which a socket is closed whose person is signed out."""
LEAVE_SECONDS = 2.0
HEADERS: Mapping[str, str] = MappingProxyType(
    {"x-content-type-options": "nosniff", "x-frame-options": "SAMEORIGIN", "referrer-policy": "same-origin"}
)


class Guard:
    """An ASGI application around another one, which is only reached signed in."""

    def __init__(self, app: ASGIApp, people: PeopleNow, cookies: Cookies, hosts: Hosts) -> None:
        self._app, self._people, self._cookies, self._hosts = app, people, cookies, hosts

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        asked = HTTPConnection(scope)
        mark = self._cookies.session(asked)
        signed_in = await self._look_up(mark) if self._hosts.ours(asked) else None
        refusal = self._refusal(asked, signed_in)
        scope = {**scope, "headers": _own_headers(scope["headers"], signed_in)}
        if scope["type"] == "websocket":
            # a browser sends its cookies with any page's socket, so it must be one of the board's own pages
            opened = None if refusal or not self._hosts.own_page(asked) else signed_in
            await self._socket(scope, receive, send, opened)
        elif refusal:
            await refusal(scope, receive, send)
        else:
            await self._app(scope, receive, _with_headers(send))
            # a page that draws itself again is no sign of a person
            if signed_in and _is_a_page(asked):
                await run_in_threadpool(self._people.used, signed_in.session)

    async def _look_up(self, mark: str) -> SignedIn | None:
        if not mark or self._people.at_hand(mark):
            return self._people.of(mark)
        return await run_in_threadpool(self._people.of, mark)

    def _refusal(self, asked: HTTPConnection, signed_in: SignedIn | None) -> Response | None:
        """What is answered instead; None where the request may go on."""
        path = asked.url.path
        if not self._hosts.ours(asked):
            return PlainTextResponse("This board is not reached under that name.", 421, HEADERS)
        if path in (BEFORE_CHANGE if signed_in else OPEN):
            return None
        if signed_in and not signed_in.must_change:
            return self._first_page(asked, signed_in)
        to = PASSWORD if signed_in else SIGN_IN
        if asked.scope["type"] == "http" and asked.scope["method"] == "GET" and _is_a_page(asked):
            went_to = path + (f"?{asked.url.query}" if asked.url.query else "")
            further = f"?next={quote(went_to, safe='')}" if went_to not in ("/", SIGN_OUT) else ""
            return RedirectResponse(f"{to}{further}", 303, {**HEADERS, "cache-control": "no-store"})
        return PlainTextResponse("Sign in first.", 401, {**HEADERS, "cache-control": "no-store"})

    def _first_page(self, asked: HTTPConnection, signed_in: SignedIn) -> Response | None:
        """A role's first page lies at the board's own address, and Streamlit finds it nowhere else."""
        if asked.url.path != f"/{first_page(signed_in.role)}" or not _is_a_page(asked):
            return None
        return RedirectResponse(f"/{'?' * bool(asked.url.query)}{asked.url.query}", 307, HEADERS)

    async def _socket(self, scope: Scope, receive: Receive, send: Send, signed_in: SignedIn | None) -> None:
        """A socket lives as long as its session; it is closed within seconds of the session's end."""
        if signed_in is None:
            await receive()
            await send({"type": "websocket.close", "code": GONE})
            return
        closed = False

        async def say(message: Message) -> None:
            nonlocal closed
            if not closed:
                closed = message["type"] == "websocket.close"
                await send(message)

        speaking = asyncio.ensure_future(self._app(scope, receive, say))
        watching = asyncio.ensure_future(self._until_ended(signed_in))
        try:
            await asyncio.wait({speaking, watching}, return_when=asyncio.FIRST_COMPLETED)
            if not speaking.done():
                await say({"type": "websocket.close", "code": GONE, "reason": "signed out"})
                await asyncio.wait({speaking}, timeout=LEAVE_SECONDS)
        finally:
            watching.cancel()
            if not speaking.done():
                speaking.cancel()
            await asyncio.gather(speaking, watching, return_exceptions=True)
        if not speaking.cancelled() and (error := speaking.exception()):
            raise error

    async def _until_ended(self, signed_in: SignedIn) -> None:
        while True:
            await asyncio.sleep(LOOK_SECONDS)
            found = await self._look_up(signed_in.session)
            if found is None or found.must_change:
                return


def _own_headers(given: list[tuple[bytes, bytes]], signed_in: SignedIn | None) -> list[tuple[bytes, bytes]]:
    kept = [(name, value) for name, value in given if not name.lower().startswith(OWN_HEADERS)]
    mark = [(SESSION_HEADER.encode(), signed_in.session.encode())] if signed_in else []
    return kept + mark


def _is_a_page(asked: HTTPConnection) -> bool:
    """Whether a person asked for a page, and not a page for one of its parts."""
    wanted = asked.headers.get("sec-fetch-dest", "")
    return wanted in ("document", "iframe") if wanted else "text/html" in asked.headers.get("accept", "")


def _with_headers(send: Send) -> Send:
    async def say(message: Message) -> None:
        if message["type"] == "http.response.start":
            named = {name.lower() for name, _ in message["headers"]}
            more = [(n.encode(), v.encode()) for n, v in HEADERS.items() if n.encode() not in named]
            message = {**message, "headers": [*message["headers"], *more]}
        await send(message)

    return say
