"""What stands on a rover's sheet, block by block. The blocks have the names of those of ICS form 204, assignment list.

Source of the names: Federal Emergency Management Agency, ICS Form 204, blocks 1 to 9. It is no copy of that form.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from county.domain.cases import Case, State
from county.domain.dispatch import Dispatch, Stop
from county.domain.outside import says_outside
from county.domain.picture import Picture
from county.domain.plan import Plan
from county.domain.roster import Place, Rover
from county.domain.rover_cases import in_order
from county.domain.wanted import wanted_for

CAUTIONS = (
    "Danger to anyone? Call 911 first. The board does not call 911.",
    "Two people at every seal and counter. Two people lift; no power lead where people walk, none into another.",
    "Count people, do not name them. Local law and county counsel decide; the county's own sheet wins.",
)


@dataclass(frozen=True, slots=True)
class Work:
    """One assignment in words."""

    where: str
    address: str
    phone: str
    what: str
    says: str
    since: str
    state: str
    expected: str
    wanted: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """One rover's sheet. `people` are those at the office, name and roles; `reach` is whom to call, and how."""

    rover: str
    name: str
    phone: str
    group: str
    starts: str
    ends: str
    equipment: str
    people: tuple[tuple[str, str], ...]
    work: tuple[Work, ...]
    instructions: tuple[tuple[str, str], ...]
    reach: tuple[tuple[str, str], ...]
    cautions: tuple[str, ...] = CAUTIONS


def sheets_of(picture: Picture, found: Dispatch, now: datetime, rovers: Iterable[Rover]) -> list[Sheet]:
    """The sheets of these rovers as of `now` (aware UTC), each with its open cases in the order of its stops."""
    cases: dict[str, list[Case]] = {}
    for case in picture.cases(open_only=True):
        cases.setdefault(case.rover, []).append(case)
    return [_sheet(rover, cases.get(rover.rover, []), found.stops.get(rover.rover, ()), picture) for rover in rovers]


def _sheet(rover: Rover, cases: Sequence[Case], stops: Sequence[Stop], picture: Picture) -> Sheet:
    plan, places = picture.plan, picture.roster.place_by_id
    own = in_order(cases, [stop.case for stop in stops])
    arrives = {stop.case: stop.arrives_at for stop in stops}
    zone = ZoneInfo(plan.election.zone)
    wall: Callable[[datetime], str] = lambda moment: f"{moment.astimezone(zone):%H:%M}"  # noqa: E731
    return Sheet(
        rover=rover.rover,
        name=rover.name,
        phone=rover.phone,
        group=rover.zone,
        starts=f"{rover.starts:%H:%M}" if rover.starts else "",
        ends=f"{rover.ends:%H:%M}" if rover.ends else "",
        equipment=_equipment(rover),
        people=tuple((person.name, ", ".join(person.roles)) for person in plan.people),
        work=tuple(_work(case, places[case.place], rover, plan, arrives.get(case.case), wall) for case in own),
        instructions=tuple(_instructions(own, plan)),
        reach=tuple(_reach(own, picture)),
    )


def _work(
    case: Case, place: Place, rover: Rover, plan: Plan, arrives: datetime | None, wall: Callable[[datetime], str]
) -> Work:
    kind = plan.kind(case.exception).says
    expected = case.expected_at or arrives
    wanted = wanted_for(case.exception, rover, plan.dispatch)
    return Work(
        where=f"{place.place}, {place.name}",
        address=", ".join(part for part in (place.address, place.city) if part),
        phone=place.phone,
        what=f"{kind}, {case.device}" if case.device else kind,
        says=says_outside(case),
        since=wall(case.raised_at),
        state=case.state.value.replace("-", " "),
        expected=wall(expected) if expected and case.state is not State.ON_SITE else "",
        wanted=tuple((each.name, each.what) for each in wanted),
    )


def _equipment(rover: Rover) -> str:
    parts = [
        f"Carries {', '.join(rover.carries)}" if rover.carries else "",
        f"Skills: {', '.join(rover.skills)}" if rover.skills else "",
    ]
    return ". ".join(part for part in parts if part)


def _instructions(cases: Iterable[Case], plan: Plan) -> Iterator[tuple[str, str]]:
    """The county's own text for each kind of trouble that is assigned, once."""
    for exception in dict.fromkeys(case.exception for case in cases):
        yield plan.kind(exception).says, plan.instruction(exception)


def _reach(cases: Iterable[Case], picture: Picture) -> Iterator[tuple[str, str]]:
    plan = picture.plan
    office = plan.word("office")
    if plan.reach.phone:
        yield f"{office[:1].upper()}{office[1:]}", f"{plan.reach.phone} (telephone)"
    for place in dict.fromkeys(case.place for case in cases):
        found = picture.roster.place_by_id[place]
        if found.phone:
            yield found.name, f"{found.phone} (telephone)"
