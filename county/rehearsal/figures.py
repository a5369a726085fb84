"""What came of a rehearsal, counted in its own ledger."""

from dataclasses import dataclass
from datetime import datetime

from county import desk, upkeep
from county.clock import Clock
from county.domain.effects import Effect
from county.domain.entries import REPORT_KINDS, Kind
from county.domain.notices import Fact
from county.following import Following
from county.rehearsal.starting import begins_at
from county.rehearsed import Result
from county.settings import Settings
from county.wiring import Office, open_office

_REAL = Clock()
_STOPPING = (Effect.DANGER, Effect.STOPPED)


@dataclass(frozen=True, slots=True)
class Ran:
    """When a rehearsal was begun (aware UTC, the real clock), and which day it plays."""

    begun_at: datetime
    regime: str
    seed: int


def figures(settings: Settings, ran: Ran, *, whole: bool, says: str) -> Result:
    """Everything that its ledger holds, counted; `says` is why it ended early, empty otherwise."""
    office = open_office(settings)
    try:
        return _counted(office, ran, whole, says)
    finally:
        office.engine.dispose()


def _counted(office: Office, ran: Ran, whole: bool, says: str) -> Result:
    following = Following(office)
    following.catch_up()
    picture, entries = following.picture, following.entries
    began = begins_at(picture.plan, picture.roster)
    at = max((entry.received_at for entry in entries if entry.kind in REPORT_KINDS), default=began)
    places, cases = picture.everywhere(at), picture.cases()
    told = {e.text("notice") for e in entries if e.kind is Kind.NOTICE and e.text("fact") == Fact.ARRIVED}
    bad, last, _ = upkeep.verify(office)
    return Result(
        begun_at=ran.begun_at,
        ended_at=_REAL.now(),
        places=len(places),
        regime=ran.regime,
        seed=ran.seed,
        whole=whole,
        entries=last,
        heard=sum(place.day.last_heard_at is not None for place in places),
        opened=sum(place.day.opened_at is not None for place in places),
        late=sum(place.minutes_late > 0 for place in places),
        cases=len(cases),
        stopped=sum(case.effect in _STOPPING for case in cases),
        told=len(told),
        set_aside=len(desk.set_aside_list(office)),
        broken=bad or 0,
        says=says,
    )
