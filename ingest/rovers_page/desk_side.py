"""What both ways into a rover's page share: which rover, whose key, what it sees now, and keeping what it taps."""

import asyncio
import json
import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType

from starlette.requests import Request

from county.domain.cases import Case
from county.domain.intake import Hand
from county.domain.roster import Rover
from county.domain.senders import Sender
from county.errors import NotFound
from ingest.pace import Pace
from ingest.phone.forms import Form
from ingest.phone.office_side import OfficeSide
from ingest.phone.sign_in import SignIn
from ingest.rovers_page.assignment import Coming
from ingest.rovers_page.pages import rover_state
from ingest.rovers_page.reading import ReadTap, TapReceipt, read_taps, receipts_of
from ingest.rovers_page.rover_view import RoverView, rover_view
from ingest.writer import Writer

DOOR = "rover"
STOPS_FOR, NEW_STOPS_AFTER = 10.0, 2.0
"""So many seconds one reckoning of the rovers' ways serves, and how soon there is another once their cases are others:
the order of stops is a suggestion, and costs time that the reports want.
"""

Ways = Mapping[str, Mapping[str, Coming]]


@dataclass(slots=True)
class RoverSide:
    """The office as the rovers' pages reach it."""

    side: OfficeSide
    writer: Writer
    sign_in: SignIn
    pace: Pace
    _seq: int = -1
    _cases: Mapping[str, Sequence[Case]] = field(default_factory=lambda: MappingProxyType({}))
    _ways: Ways = field(default_factory=lambda: MappingProxyType({}))
    _ways_at: float = float("-inf")
    _own: frozenset[tuple[str, str, str]] = frozenset()
    _ways_for: frozenset[tuple[str, str, str]] = frozenset()
    _reckoning: asyncio.Lock = field(default_factory=asyncio.Lock)

    async def rover(self, request: Request) -> Rover:
        """The rover of the request's path. Raises NotFound."""
        await self.side.look()
        asked = request.path_params["rover"]
        found = self.side.picture.roster.rover_by_id.get(asked)
        if found is None:
            raise NotFound(f"There is no rover {asked[:60]} in this county's list.")
        return found

    async def view(self, rover: Rover) -> RoverView:
        """The page as of the last look."""
        await self._reckon()
        cases, coming = self._of_everybody().get(rover.rover, ()), self._ways.get(rover.rover, {})
        return rover_view(rover, cases, coming, self.side.picture, self.side.office.clock.now())

    async def state(self, rover: Rover) -> str:
        """What changes while the page is open, as JSON."""
        return json.dumps(rover_state(await self.view(rover)), separators=(",", ":"))

    async def keep(self, forms: Sequence[Form], rover: Rover, sender: Sender) -> list[TapReceipt]:
        """Keep what was tapped, durable when this returns, and be up to date with it. Raises Busy to a stuck phone."""
        self.pace.take(sender.name)
        await self.side.catch_up()
        read = self.read(forms, rover, sender)
        receipts = await self.writer.keep([tap.item for tap in read])
        await self.side.catch_up()
        return receipts_of(read, receipts)

    def read(self, forms: Sequence[Form], rover: Rover, sender: Sender) -> list[ReadTap]:
        """What was tapped, read as of the last look and not kept."""
        clock = self.side.office.clock
        hand = Hand(sender.name, sender.shown, DOOR, clock.now(), clock.word, rover_only=rover.rover)
        return read_taps(forms, self.side.picture, hand)

    def _of_everybody(self) -> Mapping[str, Sequence[Case]]:
        """Each rover's cases, looked for once for all phones that ask until something new is in the ledger."""
        seq = self.side.following.seq
        if seq != self._seq:
            found: dict[str, list[Case]] = {}
            for case in self.side.picture.cases():
                if case.rover:
                    found.setdefault(case.rover, []).append(case)
            self._seq, self._cases = seq, found
            self._own = frozenset((c.case, rover, c.state.value) for rover, cases in found.items() for c in cases)
        return self._cases

    async def _reckon(self) -> None:
        """Have the rovers' ways reckoned where the last reckoning is old; whoever asks meanwhile takes the old one."""
        self._of_everybody()
        own = self._own
        serves = STOPS_FOR if own == self._ways_for else NEW_STOPS_AFTER
        if self._reckoning.locked() or time.monotonic() - self._ways_at < serves:
            return
        async with self._reckoning:
            self._ways = await asyncio.to_thread(_reckoned, self.side)
            self._ways_at, self._ways_for = time.monotonic(), own


def _reckoned(side: OfficeSide) -> Ways:
    # the reckoning brings large libraries, which an office without rovers' phones never needs
    from county.dispatching import suggestion

    found = suggestion(side.office, side.picture, side.office.clock.now())
    return {
        rover: {stop.case: Coming(stop.minutes, stop.arrives_at) for stop in stops}
        for rover, stops in found.stops.items()
    }
