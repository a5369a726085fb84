"""One rover's page at one moment: its assignments in order, and what it cleared."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from county.domain.cases import Action, Case, State
from county.domain.picture import Picture
from county.domain.plan import Plan
from county.domain.roster import Rover
from county.domain.rover_cases import in_order
from ingest.phone.wall import Wall, wall_of
from ingest.rovers_page.assignment import STEPS, Assignment, Coming, assignment

CLEARED_SHOWN = 5


@dataclass(frozen=True, slots=True)
class RoverView:
    """What a rover sees. `cleared` are the last it cleared, latest first: when, what, where."""

    rover: Rover
    plan: Plan
    at: datetime
    wall: Wall
    zone: str
    assignments: tuple[Assignment, ...]
    cleared: tuple[tuple[str, str, str], ...]

    @property
    def steps(self) -> tuple[tuple[Action, str, str], ...]:
        """What a rover says of a case, in order."""
        return STEPS

    @property
    def sentence(self) -> str:
        """The page's answer in words."""
        count = len(self.assignments)
        if not count:
            return f"Nothing is assigned to you. The {self.plan.word('office')} sends you word here."
        first = self.assignments[0]
        rest = f" Then {count - 1} more." if count > 1 else ""
        doing = {State.ON_SITE: "On site at", State.UNDER_WAY: "Under way to"}.get(first.case.state, "Next:")
        return f"{doing} {first.place.name}.{rest}"


def rover_view(
    rover: Rover, cases: Sequence[Case], coming: Mapping[str, Coming], picture: Picture, at: datetime
) -> RoverView:
    """The page of a rover at a moment (aware UTC); `cases` are those it has or had, `coming` its stops, in order."""
    plan, places = picture.plan, picture.roster.place_by_id
    zone = ZoneInfo(plan.election.zone)
    wall = wall_of(zone)
    cleared = sorted((case for case in cases if case.cleared_at), key=_cleared_at, reverse=True)
    return RoverView(
        rover=rover,
        plan=plan,
        at=at,
        wall=wall,
        zone=f"{at.astimezone(zone):%Z}",
        assignments=tuple(
            assignment(case, places[case.place], rover, plan, wall, coming.get(case.case))
            for case in in_order(cases, list(coming))
        ),
        cleared=tuple(
            (wall(_cleared_at(case)), plan.kind(case.exception).says, places[case.place].name)
            for case in cleared[:CLEARED_SHOWN]
        ),
    )


def _cleared_at(case: Case) -> datetime:
    assert case.cleared_at is not None
    return case.cleared_at
