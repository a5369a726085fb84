"""What is expected of each place: its own hours, its steps with due times, its devices, seals and counters."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo

from county.domain.plan import Anchor, Plan, Step
from county.domain.roster import Place, Roster


@dataclass(frozen=True, slots=True)
class ExpectedStep:
    """One step at one place: when it is due (UTC), when it is overdue, and on which devices; none when per place."""

    step: Step
    due_at: datetime
    overdue_at: datetime
    devices: tuple[str, ...]

    @property
    def key(self) -> str:
        return self.step.key


@dataclass(frozen=True, slots=True)
class Expected:
    """One place's day as it should go. Times are aware UTC.

    What was told of earlier days, at a training or a test, is no sign of today: `heard_from` is noon of the day before,
    and `step_from` the earliest moment at which a step counts as done.
    """

    place: Place
    heard_from: datetime
    step_from: Mapping[str, datetime]
    opens_at: datetime
    closes_at: datetime
    steps: tuple[ExpectedStep, ...]
    device_types: Mapping[str, str]
    seals: Mapping[str, Mapping[str, str]]
    protective: Mapping[str, int]
    precincts: frozenset[str]
    precinct_names: Mapping[str, str]

    @property
    def scanners(self) -> tuple[str, ...]:
        return tuple(device for device, type_ in self.device_types.items() if type_ == "scanner")

    @property
    def first_due_at(self) -> datetime:
        """When the place should first be heard from."""
        return min((step.due_at for step in self.steps), default=self.opens_at)


def wall(plan: Plan, place: Place, clock: time) -> datetime:
    """A wall time on election day at this place, as aware UTC; midnight as a closing time is the day's end."""
    zone = ZoneInfo(place.time_zone or plan.election.zone)
    return datetime.combine(plan.election.date, clock, zone).astimezone(UTC)


def expected_at(place: Place, roster: Roster, plan: Plan) -> Expected:
    """What the plan and the roster expect of one place."""
    opens_at = wall(plan, place, place.opens or plan.election.opens)
    closes_at = wall(plan, place, place.closes or plan.election.closes)
    if closes_at <= opens_at:
        closes_at += timedelta(days=1)
    devices = roster.devices_at.get(place.place, ())
    precincts = roster.precincts_at.get(place.place, ())
    midnight = wall(plan, place, time(0))
    noon_before = midnight - timedelta(hours=12)

    def expected_steps() -> Iterator[ExpectedStep]:
        for step in plan.steps:
            on = tuple(d.device for d in devices if d.type in step.types) if step.per_device else ()
            if on or not step.per_device:
                due_at = (opens_at if step.anchor is Anchor.OPENING else closes_at) + step.due
                yield ExpectedStep(step, due_at, due_at + step.grace, on)

    return Expected(
        place=place,
        heard_from=noon_before,
        # a room may be set up the evening before, but the polls of a day open and close on that day
        step_from={step.key: noon_before if step.before_opening else midnight for step in plan.steps},
        opens_at=opens_at,
        closes_at=closes_at,
        steps=tuple(expected_steps()),
        device_types={d.device: d.type for d in devices},
        seals={d.device: roster.seals_on[d.device] for d in devices if d.device in roster.seals_on},
        protective={d.device: d.protective_counter for d in devices if d.protective_counter is not None},
        precincts=frozenset(p.precinct for p in precincts),
        precinct_names={
            **{p.name.casefold(): p.precinct for p in precincts},
            **{p.precinct.casefold(): p.precinct for p in precincts},
        },
    )


def expected_of(roster: Roster, plan: Plan) -> dict[str, Expected]:
    """What is expected of every place, by place id."""
    return {place.place: expected_at(place, roster, plan) for place in roster.places}
