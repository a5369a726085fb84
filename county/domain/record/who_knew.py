"""Who knew when, and who did what: of one case, in the order of time."""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from county.domain.cases import Action, Case
from county.domain.milestones import by_a_person
from county.domain.notices import Fact, Notice
from county.domain.place_state import PlaceState


class Knew(StrEnum):
    """What the record says at this point."""

    TRUE = "true"
    LEARNED = "learned"
    NOTICE_ARRIVED = "notice-arrived"
    NOTICE_FAILED = "notice-failed"
    NOTICE_ON_ITS_WAY = "notice-on-its-way"
    NOBODY_TO_TELL = "nobody-to-tell"
    DID = "did"
    ENDED_BY_FACTS = "ended-by-facts"


@dataclass(frozen=True, slots=True)
class Point:
    """One point of a case: when (aware UTC), who, and what.

    `who` is a shown name, a role, or the place; `action` is what a person did, `says` their note, the notice's channel,
    or what the facts said; `learned_at` is when the office learned of it, where that was later.
    """

    at: datetime
    what: Knew
    who: str
    action: str = ""
    rover: str = ""
    says: str = ""
    learned_at: datetime | None = None


_NOTICES = {
    Fact.ARRIVED: Knew.NOTICE_ARRIVED,
    Fact.FAILED: Knew.NOTICE_FAILED,
    Fact.OWED: Knew.NOTICE_ON_ITS_WAY,
    Fact.NOBODY: Knew.NOBODY_TO_TELL,
}


def who_knew(state: PlaceState, case: Case) -> tuple[Point, ...]:
    """When a case was true, when the office learned of it and from whom, who was told, who did what, how it ended."""
    points = [
        Point(case.raised_at, Knew.TRUE, case.place, says=case.says),
        Point(case.learned_at, Knew.LEARNED, case.raised_by),
        *(_told(notice) for notice in state.notices if notice.case == case.case),
    ]
    for step in case.steps:
        if by_a_person(step):
            learned_at = step.learned_at if step.learned_at > step.at else None
            points.append(Point(step.at, Knew.DID, step.by, step.action, step.rover, step.note, learned_at))
        else:
            points.append(Point(step.at, Knew.ENDED_BY_FACTS, step.by, step.action, says=step.note))
    return tuple(sorted(points, key=lambda point: point.at))


def _told(notice: Notice) -> Point:
    who = notice.person or notice.role
    return Point(notice.at, _NOTICES[notice.fact], who, says=notice.channel)


def first_to_act(case: Case) -> str:
    """Who first did anything with a case; empty where nobody did."""
    deeds = (step for step in case.steps if by_a_person(step) and step.action != Action.NOTE)
    return next((step.by for step in deeds), "")
