"""Every path of the rovers' pages, for the endpoint to take in."""

from starlette.routing import BaseRoute, Route

from county.domain.senders import Sender
from ingest.pace import Pace
from ingest.phone.office_side import OfficeSide
from ingest.phone.sign_in import SignIn
from ingest.rovers_page.desk_side import RoverSide
from ingest.rovers_page.pages import ROVER
from ingest.rovers_page.plain_door import PlainDoor
from ingest.rovers_page.script_door import ScriptDoor
from ingest.senders import Senders
from ingest.writer import Writer

COOKIE = "rover_key"


def rovers_page(side: OfficeSide, writer: Writer, senders: Senders) -> list[BaseRoute]:
    """The routes of the rovers' pages."""
    pace = Pace(side.office.settings.requests_a_minute)
    rovers = RoverSide(side, writer, SignIn(senders, COOKIE, ROVER.under, opens), pace)
    plain, script = PlainDoor(rovers), ScriptDoor(rovers)
    return [
        Route(f"{ROVER.under}-/{{name}}", ROVER.assets.answer, methods=["GET"]),
        Route("/rover/{rover}/state", script.state, methods=["GET"]),
        Route("/rover/{rover}/actions", script.actions, methods=["POST"]),
        Route("/rover/{rover}", plain.get, methods=["GET"]),
        Route("/rover/{rover}", plain.post, methods=["POST"]),
    ]


def opens(sender: Sender, rover: str) -> bool:
    """Whether this sender's key opens a rover's page: the rover's own alone."""
    return sender.rover == rover
