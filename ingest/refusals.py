"""Errors as the endpoint answers them: the one place where they are translated, so that none is answered otherwise."""

import logging
from collections.abc import Mapping
from http import HTTPStatus
from types import MappingProxyType
from typing import Any

from fastapi import FastAPI
from fastapi.exceptions import RequestValidationError
from sqlalchemy.exc import SQLAlchemyError
from starlette.exceptions import HTTPException
from starlette.requests import ClientDisconnect, Request
from starlette.responses import Response

from county.errors import Busy, NotAllowed, NotFound, PollriseError, Problem, Refused, UnknownKey
from ingest.answers import problem
from ingest.body import WHOLE, TooLarge, TooSlow
from ingest.writer import AGAIN_IN, CannotKeep

STATUS: Mapping[type[PollriseError], int] = MappingProxyType(
    {
        UnknownKey: 401,
        NotAllowed: 403,
        NotFound: 404,
        TooSlow: 408,
        TooLarge: 413,
        Refused: 422,
        Busy: 429,
        CannotKeep: 503,
    }
)
FIELD: Mapping[int, str] = MappingProxyType(
    {401: "Authorization", 403: "Authorization", 404: "path", 405: "method", 408: WHOLE, 413: WHOLE}
)
READ_TO_ITS_END = 65_536

log = logging.getLogger(__name__)


def translate(app: FastAPI) -> None:
    """Have every error of the app answered as problem details."""
    app.add_exception_handler(PollriseError, _ours)
    app.add_exception_handler(RequestValidationError, _framework_validation)
    app.add_exception_handler(HTTPException, _framework)
    app.add_exception_handler(ClientDisconnect, _gone)
    app.add_exception_handler(SQLAlchemyError, _database)
    app.add_exception_handler(Exception, _unforeseen)


async def _ours(request: Request, error: Exception) -> Response:
    status = next((STATUS[kind] for kind in type(error).__mro__ if kind in STATUS), 422)
    unread = isinstance(error, TooSlow) or (isinstance(error, TooLarge) and error.unread)
    headers: dict[str, str] = {}
    if isinstance(error, Busy):
        headers["retry-after"] = str(error.seconds)
    if isinstance(error, CannotKeep):
        headers["retry-after"] = str(AGAIN_IN)
    if isinstance(error, UnknownKey):
        headers["www-authenticate"] = 'Bearer realm="reports"'
    problems = error.problems if isinstance(error, Refused) else (Problem(FIELD.get(status, ""), str(error)),)
    return problem(status, str(error), problems, headers, parting=unread or _large(request, error))


async def _framework_validation(request: Request, error: Exception) -> Response:
    assert isinstance(error, RequestValidationError)
    problems = [Problem(_field(found["loc"]), _says(found)) for found in error.errors()]
    return problem(422, "; ".join(str(each) for each in problems), problems, parting=_large(request, error))


async def _framework(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    says = {404: f"nothing is at {request.url.path[:200]}", 405: f"{request.method} is not answered here"}
    detail = says.get(error.status_code, HTTPStatus(error.status_code).phrase)
    problems = (Problem(FIELD.get(error.status_code, ""), detail),)
    return problem(error.status_code, detail, problems, error.headers, parting=_large(request, error))


async def _gone(request: Request, error: Exception) -> Response:
    detail = "the connection was closed before the body was complete"
    return problem(400, detail)


async def _database(request: Request, error: Exception) -> Response:
    log.error("the database did not answer %s %s: %s", request.method, request.url.path, error)
    return problem(503, "the database does not answer just now; try again", headers={"retry-after": str(AGAIN_IN)})


async def _unforeseen(request: Request, error: Exception) -> Response:
    """The last net: the framework logs the error; the sender learns only that it was not its fault."""
    return problem(500, "something went wrong at the office's end; nothing was acknowledged, so send it again")


def _large(request: Request, error: Exception) -> bool:
    """Whether a large body may still be coming: refused for another reason than its size, it was not read."""
    if isinstance(error, Refused | TooLarge):
        return False
    length = request.headers.get("content-length", "0")
    return "transfer-encoding" in request.headers or not length.isdecimal() or int(length[:20]) > READ_TO_ITS_END


def _field(location: tuple[Any, ...]) -> str:
    return ".".join(str(part) for part in location[1:]) or str(location[0])


def _says(found: Mapping[str, Any]) -> str:
    if found["type"] == "extra_forbidden":
        return "no such field"
    return str(found["msg"])
