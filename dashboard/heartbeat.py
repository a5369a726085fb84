"""What every open page is told each second, so that it can see by itself that it has grown old."""

import asyncio
import logging
from collections.abc import AsyncGenerator
from contextlib import asynccontextmanager, suppress
from datetime import timedelta
from urllib.parse import urlsplit

import httpx
from starlette.websockets import WebSocket, WebSocketDisconnect

from county.settings import Settings
from dashboard.board_now import Board
from dashboard.endpoint_alarm import SILENT, alarm
from dashboard.feed import Feed
from dashboard.sign_in.guard import SESSION_HEADER

ROUTE = "/live"
LOOK_SECONDS = 0.2
BEAT_SECONDS = 1.0
PROBE_SECONDS = 4.0
_WILDCARDS = {"0.0.0.0": "127.0.0.1", "::": "::1"}  # noqa: S104  where to knock when it listens everywhere
_log = logging.getLogger("pollrise.board")


class Heart:
    """Beats once a second to every page, at once when there is a newer board, and knocks at the endpoint."""

    def __init__(self, feed: Feed, settings: Settings) -> None:
        host = _WILDCARDS.get(settings.host, settings.host)
        self._feed = feed
        self._address = f"http://{f'[{host}]' if ':' in host else host}:{settings.port}/health"
        self._endpoint = "not asked yet"
        self._missed = 0

    def says(self) -> dict[str, object]:
        """One beat: the newest board, the office's time and the last report's (Unix seconds), and what is wrong."""
        board = self._feed.latest
        return {
            "revision": board.revision if board else 0,
            "now": self._feed.now().timestamp(),
            "last": board.last_received_at.timestamp() if board and board.last_received_at else None,
            "behind": round(self._feed.seconds_since_read(), 1),
            "endpoint": self._endpoint,
            "alarm": alarm(self._endpoint, self._feed.signs.still, may_have_ended=_may_have_ended(board)),
        }

    async def beat(self, socket: WebSocket) -> None:
        """Speak to one page until it leaves. A page from elsewhere is not spoken to."""
        if not _from_here(socket):
            await socket.close(code=1008)
            return
        await socket.accept()
        told, since = -1, BEAT_SECONDS
        with suppress(WebSocketDisconnect):
            while not await self._has_left(socket):
                since += LOOK_SECONDS
                newer = self._feed.revision != told
                if since >= BEAT_SECONDS or (newer and since >= BEAT_SECONDS / 2):
                    beat = self.says()
                    told, since = self._feed.revision, 0.0
                    await socket.send_json(beat)

    async def _has_left(self, socket: WebSocket) -> bool:
        """Listen for a moment; whatever a page says means that a person is using it."""
        try:
            message = await asyncio.wait_for(socket.receive(), LOOK_SECONDS)
        except TimeoutError:
            return False
        if message["type"] == "websocket.receive":
            await asyncio.to_thread(self._feed.people.used, socket.headers.get(SESSION_HEADER, ""))
        return bool(message["type"] == "websocket.disconnect")

    @asynccontextmanager
    async def knocking(self) -> AsyncGenerator[None, None]:
        """Knock at the endpoint every few seconds while the board is served; an archive has none."""
        if self._feed.office.archive:
            yield
            return
        task = asyncio.create_task(self._knock())
        try:
            yield
        finally:
            task.cancel()
            with suppress(asyncio.CancelledError):
                await task

    def answered(self, *, ok: bool) -> None:
        """Take note of one knock; the endpoint counts as silent after the second that went unanswered."""
        self._missed = 0 if ok else self._missed + 1
        if ok or self._missed > 1:
            self._endpoint = "answers" if ok else SILENT

    async def _knock(self) -> None:
        async with httpx.AsyncClient(trust_env=False, timeout=PROBE_SECONDS) as client:
            while True:
                try:
                    self.answered(ok=endpoint_answers(await client.get(self._address)))
                except httpx.HTTPError:
                    self.answered(ok=False)
                await asyncio.sleep(PROBE_SECONDS)


def endpoint_answers(said: httpx.Response) -> bool:
    """Whether the endpoint answers; that a loop beside it stands still is told by the signs of life."""
    return said.is_success or b'"stalled":[' in said.content


def _may_have_ended(board: Board | None) -> bool:
    """Whether it may be right that no endpoint runs: this is a rehearsal, or the election was before yesterday."""
    if board is None:
        return True
    election = board.plan.election
    return election.rehearsal or board.as_of.astimezone(board.zone).date() > election.date + timedelta(days=1)


def _from_here(socket: WebSocket) -> bool:
    """Whether the page that asks was served by this very board."""
    origin = socket.headers.get("origin")
    return origin is None or urlsplit(origin).netloc == socket.headers.get("host")
