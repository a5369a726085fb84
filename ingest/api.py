"""The endpoint: which path is answered by which door."""

from collections.abc import AsyncIterator, Callable, Sequence
from contextlib import asynccontextmanager
from http import HTTPStatus
from typing import Any

from fastapi import FastAPI
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from county.desk import keep
from county.following import Following
from county.wiring import Office
from ingest import answer_models as shown
from ingest.actions_door import ActionsDoor
from ingest.answers import PROBLEM, answer
from ingest.docs_page import docs_page
from ingest.health_door import HealthDoor
from ingest.loops import Loop
from ingest.metrics import OPENMETRICS
from ingest.officers_page.door import officers_page
from ingest.openapi import FORM, body, describe, ref
from ingest.pace import Pace
from ingest.phone.office_side import OfficeSide
from ingest.refusals import translate
from ingest.reports_door import ReportsDoor
from ingest.rovers_page.door import rovers_page
from ingest.senders import Senders
from ingest.text_line import TextDoor
from ingest.views_door import ViewsDoor
from ingest.writer import Writer

API_VERSION = "1"
STYLE_ONLY = "default-src 'none'; style-src 'unsafe-inline'"
KEYED: dict[str, Any] = {"security": [{"key": []}]}
_STANDS_STILL: dict[int | str, dict[str, Any]] = {
    503: {
        "description": "A loop stands still, or the database does not answer",
        "model": shown.HealthAnswer,
        "content": {PROBLEM: {"schema": ref("ProblemDetails")}},
    }
}
RECEIPTS: dict[int, object] = {200: shown.ReceiptsAnswer, 201: shown.ReceiptAnswer}


def writer_for(office: Office) -> Writer:
    """The one writer of this process."""
    return Writer(lambda items: keep(office, items))


def create_app(
    office: Office, following: Following, writer: Writer, pace: Pace | None = None, loops: Sequence[Loop] = ()
) -> FastAPI:
    """The endpoint over an office; it starts the writer with itself and drains it when it stops.

    `loops` are those that run beside it, for /health and /metrics to tell of.
    """

    @asynccontextmanager
    async def lifespan(app: FastAPI) -> AsyncIterator[None]:
        writer.start()
        yield
        writer.stop()

    app = FastAPI(
        title="Pollrise endpoint",
        summary="Operational reports from polling places, not results. Count people, do not name them.",
        version=API_VERSION,
        docs_url=None,  # the framework's own pages load scripts from elsewhere
        redoc_url=None,
        openapi_url=None,
        redirect_slashes=False,
        lifespan=lifespan,
    )
    senders = Senders(office)
    translate(app)
    _doors_in(app, office, following, writer, senders, pace or Pace(office.settings.requests_a_minute))
    _doors_out(app, ViewsDoor(office, following, senders), HealthDoor(office, following, writer, loops))
    side = OfficeSide(office, following)
    app.router.routes.extend(officers_page(side, writer, senders))
    app.router.routes.extend(rovers_page(side, writer, senders))
    _description(app)
    return app


def _doors_in(app: FastAPI, office: Office, following: Following, writer: Writer, senders: Senders, pace: Pace) -> None:
    reports = ReportsDoor(office, following, writer, senders, pace)
    app.add_api_route(
        "/reports",
        reports.post,
        methods=["POST"],
        status_code=201,
        responses=_answers(RECEIPTS, 401, 403, 408, 409, 413, 422, 429, 503),
        openapi_extra=KEYED | body({"oneOf": [ref("Report"), ref("Batch")]}),
    )
    actions = ActionsDoor(office, following, writer, senders)
    app.add_api_route(
        "/cases/{case}/actions",
        actions.post,
        methods=["POST"],
        status_code=201,
        responses=_answers(
            {200: shown.ReceiptAnswer, 201: shown.ReceiptAnswer}, 401, 403, 404, 409, 413, 422, 429, 503
        ),
        openapi_extra=KEYED | body(ref("Action")),
    )
    line = {"description": "One short line", "content": {"text/plain": {"schema": {"type": "string"}}}}
    app.add_api_route(
        "/text",
        TextDoor(office, following, writer, senders).post,
        methods=["POST"],
        response_class=Response,
        responses={**_answers({}, 401, 403, 408, 413, 422, 429, 503), 200: line},
        openapi_extra=KEYED | body(ref("TextMessage"), FORM),
    )


def _doors_out(app: FastAPI, views: ViewsDoor, health: HealthDoor) -> None:
    keyed: tuple[tuple[str, Callable[..., Any], object, tuple[int, ...]], ...] = (
        ("/picture", views.picture, shown.PictureAnswer, (401, 403, 422, 429, 503)),
        ("/cases", views.cases, list[shown.CaseAnswer], (401, 403, 422, 429, 503)),
        ("/ledger", views.ledger, list[shown.LedgerEntryAnswer], (401, 403, 422, 429, 503)),
    )
    for path, door, model, refusals in keyed:
        app.add_api_route(path, door, responses=_answers({200: model}, *refusals), openapi_extra=KEYED)
    app.add_api_route("/health", health.health, responses=_answers({200: shown.HealthAnswer}) | _STANDS_STILL)
    text = {"description": "OpenMetrics text", "content": {OPENMETRICS: {"schema": {"type": "string"}}}}
    app.add_api_route("/metrics", health.metrics, response_class=Response, responses={**_answers({}, 503), 200: text})


def _description(app: FastAPI) -> None:
    described = describe(app)
    page = docs_page(described)

    async def openapi(request: Request) -> Response:
        return answer(200, described)

    async def docs(request: Request) -> Response:
        return HTMLResponse(page, headers={"content-security-policy": STYLE_ONLY})

    app.add_route("/openapi.json", openapi, methods=["GET"])
    app.add_route("/docs", docs, methods=["GET"])


def _answers(models: dict[int, object], *refusals: int) -> dict[int | str, dict[str, Any]]:
    """What a route may answer, for its description."""
    good: dict[int | str, dict[str, Any]] = {status: {"model": model} for status, model in models.items()}
    refused = {"content": {PROBLEM: {"schema": ref("ProblemDetails")}}}
    return good | {status: refused | {"description": HTTPStatus(status).phrase} for status in refusals}
