"""What the endpoint answers: JSON, and problem details (RFC 9457) for everything it refuses."""

import asyncio
import json
from collections.abc import Iterable, Mapping
from contextlib import suppress
from http import HTTPStatus

from starlette.responses import Response
from starlette.types import Receive, Scope, Send

from county.errors import Problem

JSON = "application/json"
PROBLEM = "application/problem+json"
MOST_PROBLEMS = 100
THROWN_AWAY = 8 * 1024 * 1024
THROWN_AWAY_FOR = 2.0
_FRESH = {"cache-control": "no-store"}


class Parting(Response):
    """An answer given while a body may still be coming that nobody will read; the connection ends after it.

    The whole answer goes out at once. What comes then is thrown away for a moment, so that a sender who only listens
    once it has sent hears the answer and not a broken connection.
    """

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        self.headers["connection"] = "close"
        await send({"type": "http.response.start", "status": self.status_code, "headers": self.raw_headers})
        await send({"type": "http.response.body", "body": self.body, "more_body": True})
        with suppress(TimeoutError):
            async with asyncio.timeout(THROWN_AWAY_FOR):
                await _throw_away(receive)
        await send({"type": "http.response.body", "body": b"", "more_body": False})


async def _throw_away(receive: Receive) -> None:
    thrown = 0
    while thrown < THROWN_AWAY:
        message = await receive()
        thrown += len(message.get("body", b""))
        if not message.get("more_body"):
            return


def answer(
    status: int,
    value: object,
    headers: Mapping[str, str] | None = None,
    media_type: str = JSON,
    made_as: type[Response] = Response,
) -> Response:
    """A JSON answer that no cache keeps. Half characters in what a sender wrote come back as JSON escapes."""
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":"))
    body = text.encode("utf-8", "backslashreplace")
    return made_as(body, status, _FRESH | dict(headers or {}), media_type=media_type)


def problem(
    status: int,
    detail: str,
    problems: Iterable[Problem] = (),
    headers: Mapping[str, str] | None = None,
    also: Mapping[str, object] | None = None,
    parting: bool = False,
) -> Response:
    """Problem details: what is wrong in a sentence, and field by field in `errors`; `also` adds members of ours."""
    errors = [{"field": found.field, "says": found.says} for found in problems][:MOST_PROBLEMS]
    body: dict[str, object] = {
        "type": "about:blank",
        "title": HTTPStatus(status).phrase,
        "status": status,
        "detail": detail,
        "errors": errors,
    }
    return answer(status, body | dict(also or {}), headers, PROBLEM, Parting if parting else Response)
