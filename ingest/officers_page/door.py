"""Every path of the officers' sheet, for the endpoint to take in."""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from county.errors import NotFound
from county.following import Following
from county.wiring import Office
from ingest.officers_page.answers import file
from ingest.officers_page.assets import AT, assets
from ingest.officers_page.desk_side import DeskSide
from ingest.officers_page.plain_door import PlainDoor
from ingest.officers_page.script_door import ScriptDoor
from ingest.officers_page.sign_in import SignIn
from ingest.senders import Senders
from ingest.writer import Writer


def officers_page(office: Office, following: Following, writer: Writer, senders: Senders) -> list[BaseRoute]:
    """The routes of the sheet."""
    desk = DeskSide(office, following, writer, SignIn(senders))
    plain, script = PlainDoor(desk), ScriptDoor(desk)
    return [
        Route(f"{AT}/{{name}}", asset, methods=["GET"]),
        Route("/at/{place}/state", script.state, methods=["GET"]),
        Route("/at/{place}/reports", script.reports, methods=["POST"]),
        Route("/at/{place}", plain.get, methods=["GET"]),
        Route("/at/{place}", plain.post, methods=["POST"]),
    ]


async def asset(request: Request) -> Response:
    """One of the sheet's files; needs no key, because there is nothing of any place in it."""
    found = assets().get(request.path_params["name"])
    if found is None:
        raise NotFound(f"nothing is at {request.url.path[:200]}")
    return file(request, found.body, found.media_type, found.headers)
