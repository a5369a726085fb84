"""Each error has one answer; what nobody foresaw tells nothing of the inside."""

import asyncio
import logging

import httpx
import pytest
from fastapi import FastAPI
from sqlalchemy.exc import OperationalError

from county.errors import BadPlan, Busy, NotAllowed, NotFound, PollriseError, Problem, Refused, UnknownKey
from ingest.body import TooLarge, TooSlow
from ingest.refusals import translate
from ingest.writer import CannotKeep


def answered(error: Exception) -> httpx.Response:
    """What a door's error is answered with."""
    app = FastAPI()
    translate(app)

    @app.get("/")
    async def door() -> None:
        raise error

    async def ask() -> httpx.Response:
        transport = httpx.ASGITransport(app, raise_app_exceptions=False)
        async with httpx.AsyncClient(transport=transport, base_url="http://office") as client:
            return await client.get("/")

    return asyncio.run(ask())


@pytest.mark.parametrize(
    ("error", "status"),
    [
        (UnknownKey("no such key"), 401),
        (NotAllowed("not this place"), 403),
        (NotFound("no such case"), 404),
        (TooSlow("did not arrive"), 408),
        (TooLarge("too much", unread=False), 413),
        (Refused([Problem("place", "is needed")]), 422),
        (Busy(7), 429),
        (CannotKeep("closing"), 503),
        (BadPlan("plan.toml", 3, "no"), 422),
        (OperationalError("select 1", {}, Exception("disk I/O error")), 503),
        (ZeroDivisionError("secret detail"), 500),
    ],
)
def test_each_error_has_its_status_and_is_answered_as_problem_details(error: Exception, status: int) -> None:
    answer = answered(error)
    assert answer.status_code == status
    assert answer.headers["content-type"] == "application/problem+json"
    body = answer.json()
    assert (body["type"], body["status"]) == ("about:blank", status)
    assert isinstance(body["errors"], list)
    assert "secret" not in answer.text
    assert "disk" not in answer.text


def test_who_is_sent_away_for_now_learns_when_to_come_again() -> None:
    assert answered(Busy(7)).headers["retry-after"] == "7"
    assert int(answered(CannotKeep("closing")).headers["retry-after"]) > 0


def test_an_error_of_our_own_without_a_status_is_a_refusal() -> None:
    assert answered(PollriseError("something we refuse")).status_code == 422


def test_what_the_database_says_is_logged(caplog: pytest.LogCaptureFixture) -> None:
    with caplog.at_level(logging.ERROR):
        answered(OperationalError("select 1", {}, Exception("disk I/O error")))
    assert "disk I/O error" in caplog.text
