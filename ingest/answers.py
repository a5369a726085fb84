"""What the endpoint answers: JSON, and problem details (RFC 9457) for everything it refuses."""

import json
from collections.abc import Iterable, Mapping
from http import HTTPStatus

from starlette.responses import Response

from county.errors import Problem

JSON = "application/json"
PROBLEM = "application/problem+json"
MOST_PROBLEMS = 100
_FRESH = {"cache-control": "no-store"}


def answer(status: int, value: object, headers: Mapping[str, str] | None = None, media_type: str = JSON) -> Response:
    """A JSON answer that no cache keeps. Half characters in what a sender wrote come back as JSON escapes."""
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":"))
    return Response(
        text.encode("utf-8", "backslashreplace"), status, _FRESH | dict(headers or {}), media_type=media_type
    )


def problem(
    status: int,
    detail: str,
    problems: Iterable[Problem] = (),
    headers: Mapping[str, str] | None = None,
    also: Mapping[str, object] | None = None,
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
    return answer(status, body | dict(also or {}), headers, PROBLEM)
