"""Boards made by hand: a picture of some entries at a moment, as the feed would hand it to the pages."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from county import desk
from county.clock import Clock
from county.domain.entries import Entry
from county.domain.opening_forecast import OpeningForecast
from county.domain.picture import Picture
from county.domain.plan import Plan
from county.domain.roster import Roster
from county.settings import settings_from
from county.store.engine import make_engine
from county.upkeep import load_roster
from county.wiring import Office
from dashboard import feed
from dashboard.board_now import Board
from dashboard.earlier import Earlier
from dashboard.feed import Feed
from tests import migrated
from tests.builders import OPENS, a_plan, a_roster
from tests.builders import clock as wall
from tests.dashboard.signed_in import looked_at_by


def a_board(
    *entries: Entry,
    now: datetime = OPENS,
    plan: Plan | None = None,
    roster: Roster | None = None,
    earlier: Earlier | None = None,
    clock: Clock | None = None,
    forecasts: Sequence[OpeningForecast] = (),
) -> Board:
    """The board at a moment, of the three places of tests.builders unless a roster is given."""
    picture = Picture.of(roster or a_roster(), plan or a_plan(), entries)
    return Board(
        revision=1,
        as_of=now,
        plan=picture.plan,
        roster=picture.roster,
        places=picture.everywhere(now),
        every_case=picture.cases(),
        last_received_at=max((entry.received_at for entry in entries), default=None),
        clock=clock or Clock(),
        earlier=earlier,
        forecasts={each.place: each for each in forecasts},
    )


def a_forecast(
    place: str,
    earliest: str,
    middle: str,
    latest: str,
    chance: float,
    *,
    opens: str = "06:00",
    step: str = "site-ready",
) -> OpeningForecast:
    """A forecast by wall times of the day."""
    return OpeningForecast(place, wall(opens), chance, wall(earliest), wall(middle), wall(latest), step)


@contextmanager
def a_feed(
    folder: Path,
    entries: Sequence[Entry] = (),
    *,
    now: datetime = OPENS,
    plan: Plan | None = None,
    roster: Roster | None = None,
) -> Iterator[Feed]:
    """A feed over a real database whose clock stands still, made the process's own as long as this lasts.

    Its pages are looked at by Ann Lee, a lead; by somebody else within `signed_in.looked_at_by`.
    """
    settings = settings_from({"POLLRISE_DATA": str(folder)})
    migrated.put(settings.database_url)
    engine = make_engine(settings.database_url)
    office = Office(settings, Clock(now, speed=0), plan or a_plan(), engine)
    load_roster(office, roster or a_roster())
    desk.keep(office, list(entries))
    made = Feed(office)
    made.refresh()
    with feed.used(made), looked_at_by(office):
        made.refresh()
        yield made
    engine.dispose()


def at(board: Feed, now: datetime) -> None:
    """Move the feed's clock, and let it look."""
    board.office = replace(board.office, clock=Clock(now, speed=0))
    board.refresh(at_once=True)
