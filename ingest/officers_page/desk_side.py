"""What both ways into the sheet share: which place, whose key, what the sheet shows now, and keeping what was typed."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from starlette.requests import Request

from county.domain.intake import Hand
from county.domain.picture import PlaceState
from county.domain.roster import Place
from county.domain.senders import Sender
from county.errors import NotFound
from ingest.officers_page.door_name import DOOR
from ingest.officers_page.pages import sheet_state
from ingest.officers_page.reading import FormReceipt, read_forms, receipts_of
from ingest.officers_page.sheet_view import SheetView, sheet_view
from ingest.pace import Pace
from ingest.phone.forms import Form
from ingest.phone.office_side import OfficeSide
from ingest.phone.sign_in import SignIn
from ingest.writer import Writer


@dataclass(slots=True)
class DeskSide:
    """The office as the sheet reaches it."""

    side: OfficeSide
    writer: Writer
    sign_in: SignIn
    pace: Pace
    _states: dict[str, tuple[PlaceState, str]] = field(default_factory=dict)

    async def place(self, request: Request) -> Place:
        """The place of the request's path, or where the precinct of that name votes. Raises NotFound."""
        await self.side.look()
        asked = request.path_params["place"]
        place = self.side.picture.roster.place_of(asked)
        if place is None:
            raise NotFound(f"There is no place {asked[:60]} in this county's list.")
        return place

    def view(self, place: str) -> SheetView:
        """The sheet as of the last look."""
        return sheet_view(self.side.picture, place, self.side.office.clock.now())

    def state(self, place: str) -> str:
        """What changes while the sheet is open, as JSON; made anew only where the place was folded anew."""
        folded = self.side.picture.places[place]
        made = self._states.get(place)
        if made is None or made[0] is not folded:
            made = self._states[place] = (folded, sheet_state(self.view(place)))
        return made[1]

    async def keep(self, forms: Sequence[Form], place: str, sender: Sender) -> list[FormReceipt]:
        """Keep what was typed, durable when this returns, and be up to date with it. Raises Busy to a stuck phone."""
        self.pace.take(sender.name)
        clock = self.side.office.clock
        hand = Hand(sender.name, sender.shown, DOOR, clock.now(), clock.word, place)
        read = read_forms(forms, self.side.picture, place, hand)
        receipts = await self.writer.keep([item for form in read for item in form.items])
        await self.side.catch_up()
        return receipts_of(read, receipts)
