"""The board's server: Streamlit, the heartbeat beside it, and what happens when a page fails."""

import gc
import logging
import os
import secrets
from collections.abc import AsyncGenerator
from contextlib import asynccontextmanager
from pathlib import Path

import streamlit as st
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route, WebSocketRoute

from county.wiring import Office
from dashboard import feed, heartbeat, theme
from dashboard.heartbeat import Heart
from dashboard.markup import tag, text
from dashboard.rovers import paper
from dashboard.sign_in.door import door_of
from dashboard.sign_in.sweeping import sweeping

_FAILED = (
    "The reports are safe and the other pages go on. Reload this one; if it fails again, read the mark out to whoever "
    "looks after the board."
)
HERE = Path(__file__).parent
_log = logging.getLogger("pollrise.board")


def serve(office: Office) -> None:
    """Serve the board until a signal stops it."""
    # who asks is for the door to find out, from the proxies that the county names and no others
    os.environ["FORWARDED_ALLOW_IPS"] = ""
    board_app(office).run(config=theme.options(office.settings))


def board_app(office: Office) -> st.App:
    """The board as an application: the door in front, the pages and the heartbeat behind it."""
    settings = office.settings
    the_feed = feed.Feed(office)
    heart = Heart(the_feed, settings)
    door = door_of(office, the_feed.people)

    @asynccontextmanager
    async def day(app: st.App) -> AsyncGenerator[None, None]:
        _warm_up()
        with feed.following(the_feed):
            async with heart.knocking(), sweeping(office):
                yield

    return st.App(
        HERE / "board.py",
        routes=[
            *door.routes(),
            WebSocketRoute(heartbeat.ROUTE, heart.beat),
            Route(paper.ROUTE, paper.sheets),
            Route("/county", _to_county),
        ],
        middleware=[door.guard()],
        lifespan=day,
        on_script_error=show_failure,
    )


def show_failure(error: Exception) -> bool:
    """Tell the person in words, and write the whole error to the log under a mark they can read out."""
    mark = secrets.token_hex(2).upper()
    _log.error("a page failed, mark %s", mark, exc_info=error)
    st.html(tag("p", tag("b", text(f"This page could not be drawn, mark {mark}. ")), text(_FAILED), cls="pr-failed"))
    return True


async def _to_county(request: Request) -> Response:
    """The first page by its name: Streamlit knows it by the bare address alone."""
    return RedirectResponse(f"/?{request.url.query}" if request.url.query else "/")


def _warm_up() -> None:
    """Import what pages need before the first person comes, then keep it out of every later collection."""
    import altair
    import pandas
    import pyarrow

    _log.debug("warm: %s %s %s", altair.__name__, pandas.__name__, pyarrow.__name__)
    gc.collect()
    gc.freeze()
