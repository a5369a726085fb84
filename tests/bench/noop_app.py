"""Endpoints of the same framework that do nothing, to measure beside the one that keeps reports."""

from fastapi import FastAPI, Request, Response
from pydantic import BaseModel


class Report(BaseModel):
    """A report's form, checked and thrown away."""

    key: str
    place: str
    kind: str
    step: str | None = None
    happened_at: str | None = None
    device: str | None = None
    public_counter: int | None = None
    protective_counter: int | None = None
    copies: int | None = None
    signers: int | None = None
    note: str | None = None


class Receipt(BaseModel):
    """An answer of the same size."""

    key: str
    outcome: str
    seq: int
    received_at: str


app = FastAPI(openapi_url=None)


@app.post("/typed", status_code=201)
async def typed(report: Report) -> Receipt:
    """Read and check the body as the framework does; keep nothing."""
    return Receipt(key=report.key, outcome="kept", seq=1, received_at="2026-11-03T11:45:00Z")


@app.post("/bare", status_code=201)
async def bare(request: Request) -> Response:
    """Read the body; keep nothing and check nothing."""
    await request.body()
    return Response(b'{"key":"","outcome":"kept","seq":1,"received_at":"2026-11-03T11:45:00Z"}', 201)
