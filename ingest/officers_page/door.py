"""Every path of the officers' sheet, for the endpoint to take in."""

from starlette.routing import BaseRoute, Route

from county.domain.senders import Sender
from ingest.officers_page.desk_side import DeskSide
from ingest.officers_page.pages import SHEET
from ingest.officers_page.plain_door import PlainDoor
from ingest.officers_page.script_door import ScriptDoor
from ingest.pace import Pace
from ingest.phone.office_side import OfficeSide
from ingest.phone.sign_in import SignIn
from ingest.senders import Senders
from ingest.writer import Writer

COOKIE = "sheet_key"


def officers_page(side: OfficeSide, writer: Writer, senders: Senders) -> list[BaseRoute]:
    """The routes of the sheet."""
    pace = Pace(side.office.settings.requests_a_minute)
    desk = DeskSide(side, writer, SignIn(senders, COOKIE, SHEET.under, opens), pace)
    plain, script = PlainDoor(desk), ScriptDoor(desk)
    return [
        Route(f"{SHEET.under}-/{{name}}", SHEET.assets.answer, methods=["GET"]),
        Route("/at/{place}/state", script.state, methods=["GET"]),
        Route("/at/{place}/reports", script.reports, methods=["POST"]),
        Route("/at/{place}", plain.get, methods=["GET"]),
        Route("/at/{place}", plain.post, methods=["POST"]),
    ]


def opens(sender: Sender, place: str) -> bool:
    """Whether this sender's key opens the sheet of a place: the place's own, and a desk's."""
    return sender.desk or sender.place == place
