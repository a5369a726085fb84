"""What the sheet's script asks for: to keep what waits on the phone, and how things stand."""

import json
from collections.abc import Mapping
from dataclasses import dataclass

from starlette.requests import Request
from starlette.responses import Response

from county.domain.senders import Sender
from county.errors import NotAllowed, Problem, Refused
from ingest.answers import answer
from ingest.body import WHOLE, read_body, read_json, read_text
from ingest.officers_page.answers import fresh_json
from ingest.officers_page.desk_side import DeskSide
from ingest.officers_page.forms import Form
from ingest.officers_page.sign_in import own_page_only

MOST_FORMS = 50
LONGEST_VALUE = 4_000


@dataclass(frozen=True, slots=True)
class ScriptDoor:
    """POST /at/{place}/reports and GET /at/{place}/state; what is refused is answered as at any other door."""

    desk: DeskSide

    async def reports(self, request: Request) -> Response:
        """`{"forms": [{...}, ...]}` in the order they were filled in; a receipt for each, and how things stand then."""
        place, sender = await self._who(request)
        own_page_only(request)
        if request.headers.get("content-type", "").split(";")[0].strip() != "application/json":
            raise NotAllowed("reports from the sheet come as application/json")
        forms = _forms(read_json(read_text(await read_body(request))))
        receipts = await self.desk.keep(forms, place, sender)
        said = [{"key": each.key, "outcome": each.outcome.value, "says": each.says} for each in receipts]
        state = json.loads(self.desk.state(place))
        return answer(200, {"receipts": said, "state": state}, self._clock())

    async def state(self, request: Request) -> Response:
        """How things stand; 304 where the phone knows it already."""
        place, _ = await self._who(request)
        return fresh_json(request, self.desk.state(place), self._clock())

    async def _who(self, request: Request) -> tuple[str, Sender]:
        place = (await self.desk.place(request)).place
        return place, await self.desk.sign_in.by_cookie(request, place)

    def _clock(self) -> dict[str, str]:
        return {"office-now": str(self.desk.clock()["now"])}


def _forms(value: object) -> list[Form]:
    forms = value.get("forms") if isinstance(value, dict) else None
    if not isinstance(forms, list) or not 1 <= len(forms) <= MOST_FORMS:
        raise Refused([Problem("forms", f"must be a list of 1 to {MOST_FORMS} forms")])
    return [_form(form) for form in forms]


def _form(value: object) -> Form:
    if not isinstance(value, Mapping) or not all(isinstance(each, str) for pair in value.items() for each in pair):
        raise Refused([Problem(WHOLE, "a form is one object of names and texts")])
    if any(len(each) > LONGEST_VALUE for each in value.values()):
        raise Refused([Problem(WHOLE, f"a text is longer than {LONGEST_VALUE:,} characters")])
    return dict(value)
