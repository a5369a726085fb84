"""What one place's sheet shows at a moment: its tasks, its cases, its hours, and what can be reported as trouble."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from county.domain.carriers import AT_A_PLACE
from county.domain.effects import Effect
from county.domain.exception_kinds import ExceptionKind
from county.domain.items import items_at
from county.domain.picture import Picture, PlaceNow
from county.domain.plan import Plan
from ingest.officers_page.door_name import DOOR
from ingest.officers_page.messages import OfMessage, acknowledged_by, of_messages
from ingest.officers_page.reported import Reported, teller
from ingest.officers_page.task_view import TaskView, blank, task_views
from ingest.officers_page.told import OFFICE_ONLY, Told, told
from ingest.phone.wall import Wall, wall_of

CLOSING_FROM = timedelta(minutes=45)
"""How long before closing the sheet turns to the closing steps by itself."""

COUNTS_SHOWN = 3

_ASKED_FIRST = (
    "scanner-jam",
    "scanner-fault",
    "long-line",
    "pollbook-outage",
    "no-power",
    "on-battery",
    "accessible-device-down",
    "accessibility-barrier",
    "officers-short",
    "ballots-short",
    "ballots-out",
    "wrong-ballots",
    "auxiliary-in-use",
    "paper-list-missing",
    "item-missing",
)
# what only rules and readings find: the sheet has a step for each that officers can see
_NOT_ASKED = OFFICE_ONLY | {
    "late-opening",
    "opened-early",
    "closed-early",
    "nonzero-start-count",
    "seal-mismatch",
    "protective-counter-mismatch",
    "zero-report-short",
    "counter-backwards",
    "counter-jump",
    "out-of-balance",
    "other",
}


@dataclass(frozen=True, slots=True)
class SheetView:
    """One place's sheet at one moment. `devices` are the place's, each with its name in words.

    `unseen` are the office's messages that nobody here has acknowledged, oldest first, `seen` the others, newest first.
    """

    now: PlaceNow
    plan: Plan
    at: datetime
    wall: Wall
    zone: str
    tasks: tuple[TaskView, ...]
    cases: tuple[Told, ...]
    counts: tuple[Reported, ...]
    devices: tuple[tuple[str, str], ...]
    unseen: tuple[OfMessage, ...] = ()
    seen: tuple[OfMessage, ...] = ()

    @property
    def may_acknowledge(self) -> tuple[tuple[str, str], ...]:
        """Who may have read a message: the role, and the button's words."""
        return acknowledged_by(self.plan)

    @property
    def forms(self) -> tuple[TaskView, ...]:
        """Each step's form once, for the script to make every task's from: of no device and no position."""
        return tuple(blank(each) for each in {each.task.step: each for each in self.tasks}.values())

    @property
    def opening(self) -> tuple[TaskView, ...]:
        return tuple(each for each in self.tasks if not each.task.closing)

    @property
    def closing(self) -> tuple[TaskView, ...]:
        return tuple(each for each in self.tasks if each.task.closing)

    @property
    def closing_from(self) -> datetime:
        """From when on the sheet turns to closing by itself."""
        return self.now.expected.closes_at - CLOSING_FROM

    @property
    def done(self) -> int:
        return sum(each.done for each in self.tasks)

    @property
    def current(self) -> str:
        """The anchor of what is to be done now: the first open task, and between opening and closing the count."""
        first = next((each.anchor for each in self.opening if not each.done), "")
        if first or self.at < self.closing_from:
            return first or "count"
        return next((each.anchor for each in self.closing if not each.done), "count")

    @property
    def dangers(self) -> tuple[ExceptionKind, ...]:
        """What endangers people."""
        return tuple(kind for kind in self.plan.exception_kinds.values() if kind.effect is Effect.DANGER)

    @property
    def troubles(self) -> tuple[ExceptionKind, ...]:
        """What else officers report, what is usual first, `other` last."""
        kinds = self.plan.exception_kinds
        names = dict.fromkeys((*_ASKED_FIRST, *kinds))
        asked = (kinds[name] for name in names if name not in _NOT_ASKED)
        return (*(kind for kind in asked if kind.effect is not Effect.DANGER), kinds["other"])

    @property
    def seal_keyboard(self) -> str:
        """The keyboard for a seal's number: digits alone where every number on record here is digits."""
        numbers = (number for seals in self.now.expected.seals.values() for number in seals.values())
        return "numeric" if all(number.isdecimal() for number in numbers) else "text"

    @property
    def items(self) -> tuple[tuple[str, str], ...]:
        """What leaves the place with its officers, each by its name and in words."""
        return tuple((each.name, each.says) for each in items_at(self.now.expected.device_types, self.plan.items))

    @property
    def carriers(self) -> tuple[str, ...]:
        """Who may carry it, by role."""
        return AT_A_PLACE

    @property
    def counters(self) -> tuple[tuple[str, str], ...]:
        """The scanners, whose public counters a count asks for."""
        return tuple(each for each in self.devices if each[0] in self.now.expected.scanners)


def sheet_view(picture: Picture, place: str, at: datetime) -> SheetView:
    """The sheet of a place at a moment (aware UTC). KeyError where the roster has no such place."""
    now, plan, roster = picture.at(place, at), picture.plan, picture.roster
    zone = ZoneInfo(now.place.time_zone or plan.election.zone)
    wall = wall_of(zone)
    tell = teller(now.cases, plan, roster, wall)
    cases = (case for case in now.open_cases if case.exception not in OFFICE_ONLY)
    helped = {entry.key for entry in (*now.day.exceptions, *now.day.interrupted) if entry.door == DOOR}
    return SheetView(
        now=now,
        plan=plan,
        at=at,
        wall=wall,
        zone=f"{now.expected.opens_at.astimezone(zone):%Z}",
        tasks=tuple(task_views(now, plan, wall, tell)),
        cases=tuple(told(case, plan, roster, wall, helped) for case in cases),
        counts=tuple(tell(entry) for entry in now.day.counts[-COUNTS_SHOWN:]),
        unseen=of_messages(now.day.messages, wall, seen=False),
        seen=of_messages(now.day.messages, wall, seen=True)[::-1],
        devices=tuple((device, f"{plan.word(kind)} {device}") for device, kind in now.expected.device_types.items()),
    )
