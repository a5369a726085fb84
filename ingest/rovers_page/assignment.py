"""One case as the rover that has it is told of it: where, what to bring, what is the matter, what comes next."""

import re
from dataclasses import dataclass
from datetime import datetime

from county.domain.cases import Action, Case, State
from county.domain.effects import Effect
from county.domain.outside import says_outside
from county.domain.plan import Plan
from county.domain.roster import Place, Rover
from county.domain.wanted import Wanted, wanted_for
from ingest.phone.wall import Wall

STEPS: tuple[tuple[Action, str, str], ...] = (
    (Action.ACCEPT, "accepted_at", "Accepted"),
    (Action.UNDER_WAY, "under_way_at", "Under way"),
    (Action.ON_SITE, "on_site_at", "On site"),
    (Action.CLEAR, "cleared_at", "Cleared"),
)
"""What a rover says of a case, in order: the action, when the case reached it, and the button's word."""

EFFECTS = {
    Effect.DANGER: "people in danger",
    Effect.STOPPED: "voting stopped",
    Effect.IMPAIRED: "voting impaired",
    Effect.AT_RISK: "at risk",
    Effect.RECORD: "for the record",
}
_SEALS = "seals"


@dataclass(frozen=True, slots=True)
class Coming:
    """Where this stop stands in the rover's way: minutes from now to arrival, and when that is (aware UTC)."""

    minutes: float
    arrives_at: datetime


@dataclass(frozen=True, slots=True)
class Assignment:
    """One case in words. `reached` is how many of STEPS are behind it, `minutes` the way there in whole minutes."""

    case: Case
    anchor: str
    place: Place
    title: str
    bearing: str
    says: str
    instruction: str
    since: str
    expected: str
    minutes: int | None
    wanted: tuple[Wanted, ...]
    reached: int
    done: tuple[tuple[str, str], ...]
    two_people: bool

    @property
    def danger(self) -> bool:
        return self.case.effect is Effect.DANGER

    @property
    def needs_words(self) -> bool:
        """Whether the rover must say how the case was cleared."""
        return self.case.needs_person

    @property
    def way_there(self) -> str:
        """The place as an RFC 5870 address; empty where the roster has no coordinates for it."""
        if self.place.latitude is None or self.place.longitude is None:
            return ""
        return f"geo:{self.place.latitude:.6f},{self.place.longitude:.6f}"

    @property
    def where(self) -> str:
        return ", ".join(part for part in (self.place.address, self.place.city) if part)


def assignment(case: Case, place: Place, rover: Rover, plan: Plan, wall: Wall, coming: Coming | None) -> Assignment:
    """This case in words for this rover; `wall` writes a moment as the place's time of day."""
    kind = plan.kind(case.exception)
    on_the_way = case.state in (State.ASSIGNED, State.UNDER_WAY)
    expected = case.expected_at or (coming.arrives_at if coming else None)
    wanted = wanted_for(case.exception, rover, plan.dispatch)
    return Assignment(
        case=case,
        anchor=anchor_of(case.case),
        place=place,
        title=f"{kind.says}, {case.device}" if case.device else kind.says,
        bearing="device stopped" if case.device and case.effect is Effect.STOPPED else EFFECTS[case.effect],
        says=_more(says_outside(case), kind.says),
        instruction=plan.instruction(case.exception),
        since=wall(case.raised_at),
        expected=wall(expected) if expected and on_the_way else "",
        minutes=max(1, round(coming.minutes)) if coming and case.state is State.ASSIGNED else None,
        wanted=wanted,
        reached=max((n for n, (_, at, _) in enumerate(STEPS, 1) if getattr(case, at)), default=0),
        done=tuple((word, wall(getattr(case, at))) for _, at, word in STEPS if getattr(case, at)),
        two_people=bool(case.device) and (case.needs_person or any(each.what == _SEALS for each in wanted)),
    )


def _more(says: str, title: str) -> str:
    """What was found, as a sentence; empty where the title says it already."""
    said = f"{says[:1].upper()}{says[1:]}"
    return "" if said.rstrip(".") == title else said if said.endswith(".") else f"{said}."


def anchor_of(case: str) -> str:
    """The name of a case in the page's address."""
    return f"a-{re.sub(r'[^A-Za-z0-9]+', '-', case)}"
