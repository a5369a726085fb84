"""What the sheet's script asks for: to keep what waits on the phone, and how things stand."""

import json
from dataclasses import dataclass

from starlette.requests import Request
from starlette.responses import Response

from county.domain.senders import Sender
from ingest.answers import answer
from ingest.officers_page.desk_side import DeskSide
from ingest.phone.answers import fresh_json
from ingest.phone.forms import sent_forms
from ingest.phone.sign_in import own_page_only


@dataclass(frozen=True, slots=True)
class ScriptDoor:
    """POST /at/{place}/reports and GET /at/{place}/state; what is refused is answered as at any other door."""

    desk: DeskSide

    async def reports(self, request: Request) -> Response:
        """`{"forms": [{...}, ...]}` in the order they were filled in; a receipt for each, and how things stand then."""
        place, sender = await self._who(request)
        own_page_only(request)
        receipts = await self.desk.keep(await sent_forms(request), place, sender)
        said = [{"key": each.key, "outcome": each.outcome.value, "says": each.says} for each in receipts]
        state = json.loads(self.desk.state(place))
        return answer(200, {"receipts": said, "state": state}, self.desk.side.told())

    async def state(self, request: Request) -> Response:
        """How things stand; 304 where the phone knows it already."""
        place, _ = await self._who(request)
        return fresh_json(request, self.desk.state(place), self.desk.side.told())

    async def _who(self, request: Request) -> tuple[str, Sender]:
        place = (await self.desk.place(request)).place
        return place, await self.desk.sign_in.by_cookie(request, place)
