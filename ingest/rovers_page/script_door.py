"""What the page's script asks for: to keep what was tapped, and how things stand."""

import json
from dataclasses import dataclass

from starlette.requests import Request
from starlette.responses import Response

from county.domain.roster import Rover
from county.domain.senders import Sender
from ingest.answers import answer
from ingest.phone.answers import fresh_json
from ingest.phone.forms import sent_forms
from ingest.phone.sign_in import own_page_only
from ingest.rovers_page.desk_side import RoverSide


@dataclass(frozen=True, slots=True)
class ScriptDoor:
    """POST /rover/{rover}/actions and GET /rover/{rover}/state."""

    rovers: RoverSide

    async def actions(self, request: Request) -> Response:
        """`{"forms": [{...}, ...]}` in the order they were tapped; a receipt for each, and how things stand then."""
        rover, sender = await self._who(request)
        own_page_only(request)
        receipts = await self.rovers.keep(await sent_forms(request), rover, sender)
        said = [{"key": each.key, "outcome": each.outcome.value, "says": each.says} for each in receipts]
        state = json.loads(await self.rovers.state(rover))
        return answer(200, {"receipts": said, "state": state}, self.rovers.side.told())

    async def state(self, request: Request) -> Response:
        """How things stand; 304 where the phone knows it already."""
        rover, _ = await self._who(request)
        return fresh_json(request, await self.rovers.state(rover), self.rovers.side.told())

    async def _who(self, request: Request) -> tuple[Rover, Sender]:
        rover = await self.rovers.rover(request)
        return rover, await self.rovers.sign_in.by_cookie(request, rover.rover)
