"""Every rover's sheet as a PDF, made when it is asked for, so that it is as new as the asking."""

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response

from county.domain.roles import Page, sees
from county.rover_sheet.writing import sheets_now
from dashboard import feed
from dashboard.markup import Markup, tag, text
from dashboard.sign_in.guard import SESSION_HEADER

ROUTE = "/rovers-sheets.pdf"


def link() -> Markup:
    """The way to the sheets; a browser saves them."""
    return tag("p", tag("a", text("Rovers' sheets, to print (PDF)"), href=ROUTE.removeprefix("/")), cls="pr-print")


async def sheets(request: Request) -> Response:
    """GET: the sheets of all rovers as of now, to whoever sees the page of rovers; the guard stands in front."""
    here = feed.current()
    person = here.people.of(request.headers.get(SESSION_HEADER, ""))
    if person is None or not sees(person.role, Page.ROVERS):
        return PlainTextResponse("The rovers' sheets are not for you.", 403)
    made = await run_in_threadpool(sheets_now, here.office, here.picture, here.picture.roster.rovers)
    name = f"rovers-{here.picture.plan.election.date:%Y-%m-%d}.pdf"
    saved = {"content-disposition": f'attachment; filename="{name}"', "cache-control": "no-store"}
    return Response(made, media_type="application/pdf", headers=saved)
