"""What both ways into the sheet share: which place, whose key, what the sheet shows now, and keeping what was typed."""

import asyncio
import time
from collections.abc import Sequence
from dataclasses import dataclass, field

from starlette.requests import Request

from county.domain.intake import Hand
from county.domain.moments import write_moment
from county.domain.picture import PlaceState
from county.domain.roster import Place
from county.domain.senders import Sender
from county.errors import NotFound
from county.following import Following
from county.wiring import Office
from ingest.officers_page.door_name import DOOR
from ingest.officers_page.forms import Form
from ingest.officers_page.pages import sheet_state
from ingest.officers_page.reading import FormReceipt, read_forms, receipts_of
from ingest.officers_page.sheet_view import SheetView, sheet_view
from ingest.officers_page.sign_in import SignIn
from ingest.pace import Pace
from ingest.writer import Writer

FRESH_FOR = 0.3
"""So many seconds old may be what a phone that only looks is shown; a phone that told something sees its own report."""


@dataclass(slots=True)
class DeskSide:
    """The office as the sheet reaches it."""

    office: Office
    following: Following
    writer: Writer
    sign_in: SignIn
    pace: Pace = field(default_factory=Pace)
    _looked_at: float = 0.0
    _states: dict[str, tuple[PlaceState, str]] = field(default_factory=dict)

    async def place(self, request: Request) -> Place:
        """The place of the request's path, or where the precinct of that name votes. Raises NotFound."""
        await self.look()
        asked = request.path_params["place"]
        place = self.following.picture.roster.place_of(asked)
        if place is None:
            raise NotFound(f"There is no place {asked[:60]} in this county's list.")
        return place

    async def look(self) -> None:
        """Be nearly up to date."""
        if time.monotonic() - self._looked_at >= FRESH_FOR:
            await self.catch_up()

    async def catch_up(self) -> None:
        """Be up to date."""
        await asyncio.to_thread(self.following.catch_up)
        self._looked_at = time.monotonic()

    def view(self, place: str) -> SheetView:
        """The sheet as of the last look."""
        return sheet_view(self.following.picture, place, self.office.clock.now())

    def state(self, place: str) -> str:
        """What changes while the sheet is open, as JSON; made anew only where the place was folded anew."""
        folded = self.following.picture.places[place]
        made = self._states.get(place)
        if made is None or made[0] is not folded:
            made = self._states[place] = (folded, sheet_state(self.view(place)))
        return made[1]

    def clock(self) -> dict[str, object]:
        """The office's time for the script, and how fast it runs: 0 and `set` only where it is not the real one."""
        clock = self.office.clock
        return {"now": write_moment(clock.now()), "speed": clock.speed, "set": not clock.real}

    async def keep(self, forms: Sequence[Form], place: str, sender: Sender) -> list[FormReceipt]:
        """Keep what was typed, durable when this returns, and be up to date with it. Raises Busy to a stuck phone."""
        self.pace.take(sender.name)
        clock = self.office.clock
        hand = Hand(sender.name, sender.shown, DOOR, clock.now(), clock.word, place)
        read = read_forms(forms, self.following.picture, place, hand)
        receipts = await self.writer.keep([item for form in read for item in form.items])
        await self.catch_up()
        return receipts_of(read, receipts)
