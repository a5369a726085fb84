"""A rehearsal played in one process, by a clock that is moved on: reports, the office's clock, the desk, notices."""

import json
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from pathlib import Path

import httpx

from county import desk
from county.clock import Clock
from county.domain.intake import Hand
from county.domain.plan_file import parse_plan
from county.errors import PollriseError, Refused
from county.following import Following
from county.rehearsal.day import made_up_day
from county.rehearsal.desk_work import Desk, DeskWork
from county.rehearsal.luck import WHOLE_DAY
from county.rehearsal.roster import made_up_county
from county.rehearsal.sent import Sent
from county.setting_up import SAMPLE_PLAN
from county.settings import settings_from
from county.store.engine import make_engine
from county.telling import Watch
from county.upkeep import load_roster
from county.wiring import Office
from ingest.clock_loop import turn
from ingest.shapes import case_shape
from tests import migrated

PLAN = parse_plan(SAMPLE_PLAN.read_text(encoding="utf-8"), str(SAMPLE_PLAN))


@dataclass(slots=True)
class PlayedDay:
    """An office in the middle of a rehearsal; `now` is moved by `to`, and everything due by then is done."""

    office: Office
    day: Sequence[Sent]
    work: DeskWork | None = None
    following: Following = field(init=False)
    watch: Watch = field(default_factory=Watch)
    sent: int = 0

    def __post_init__(self) -> None:
        self.following = Following(self.office)

    def to(self, now: datetime) -> None:
        """Everything up to a moment: reports as they come, then the clock's turn, then the desk's."""
        self.office = replace(self.office, clock=Clock(now, speed=0))
        items = []
        while self.sent < len(self.day) and self.day[self.sent].at <= now:
            each = self.day[self.sent]
            self.sent += 1
            hand = Hand("desk:Rehearsal", "Rehearsal", each.how, each.at, "set")
            try:
                items.append(self.following.read_report(each.raw, hand))
            except Refused:
                continue
        desk.keep(self.office, items)
        turn(self.office, self.following, self.watch)
        if self.work:
            self.work.look(now)
            self.following.catch_up()

    def through(self, every: timedelta, until: datetime) -> None:
        """Move the clock on by steps from the first report to a moment."""
        now = self.day[0].at.replace(second=0, microsecond=0)
        while now < until:
            now += every
            self.to(now)

    def answer(self, request: httpx.Request) -> httpx.Response:
        """What the endpoint answers the made-up desk."""
        picture = self.following.picture
        if request.method == "GET":
            return httpx.Response(200, json=[case_shape(case) for case in picture.cases(open_only=True)])
        case = request.url.path.removeprefix("/cases/").removesuffix("/actions")
        try:
            desk.act(self.office, picture, case, json.loads(request.content), "desk:Desk", "Front desk", "endpoint")
        except PollriseError as error:
            return httpx.Response(422, text=str(error))
        self.following.catch_up()
        return httpx.Response(201)


def a_played_day(data: Path, *, places: int = 48, regime: str = "rough", hours: int = WHOLE_DAY) -> PlayedDay:
    """A rehearsal about to begin, its roster loaded the evening before."""
    data.mkdir(exist_ok=True)
    settings = settings_from({"POLLRISE_DATA": str(data)})
    migrated.put(settings.database_url)
    engine = make_engine(settings.database_url)
    roster = made_up_county(places)
    day = made_up_day(roster, PLAN, regime, seed=1, hours=hours)
    office = Office(settings, Clock(day[0].at - timedelta(hours=9), speed=0), PLAN, engine)
    load_roster(office, roster)
    played = PlayedDay(office, day)
    client = httpx.Client(base_url="http://desk", transport=httpx.MockTransport(played.answer))
    played.work = Desk(roster.rovers, PLAN.dispatch).begin(client, "key", "r1")
    return played
