"""How long a place's cases took, from raised to cleared, beside the county's targets."""

from collections.abc import Iterable
from datetime import timedelta

from county.domain.cases import Action, Case
from county.domain.milestones import Milestone, by_a_person, first_time
from county.domain.picture import PlaceNow
from county.domain.record.against_targets import target_of
from dashboard import words
from dashboard.board_now import Board
from dashboard.looks import trouble
from dashboard.markup import Markup, tag, text
from dashboard.review.points import listed

MANY = 100
_PASSED = (Milestone.ACKNOWLEDGED, Milestone.ASSIGNED, Milestone.ON_SITE, Milestone.CLEARED)


def minutes_in_words(minutes: int) -> str:
    """So many minutes in words, in hours where they are many."""
    return words.counted(minutes, "minute") if minutes < MANY else words.span(timedelta(minutes=minutes))


def how_long(board: Board, now: PlaceNow, cases: Iterable[Case]) -> Markup:
    lines = [_took(board, case) for case in cases]
    if now.lost_minutes:
        lines.append(tag("li", text(f"{words.begun(minutes_in_words(now.lost_minutes))} of voting lost in all.")))
    return listed(lines, "No case was raised here.")


def _took(board: Board, case: Case) -> Markup:
    reached = []
    for milestone in _PASSED:
        at = first_time(case, milestone)
        if at is not None:
            target = target_of(case, milestone, board.plan)
            beside = f" (target {target})" if target is not None else ""
            reached.append(f"{milestone.value.replace('-', ' ')} after {words.span(at - case.raised_at)}{beside}")
    reached += _after_its_end(case)
    still = "still open" if case.state.open else ""
    if case.ended_at and not case.cleared_at:
        still = f"withdrawn after {words.span(case.ended_at - case.raised_at)}"
    said = words.commas([*reached, still]) or "no time was written down"
    return tag("li", text(f"{words.begun(trouble(case, board.plan))}: {said}."))


def _after_its_end(case: Case) -> list[str]:
    """That people first acted when it had ended already, because the office learned that it had later still."""
    deeds = [step for step in case.steps if by_a_person(step) and step.action != Action.NOTE]
    if not deeds or case.ended_at is None or deeds[0].at <= case.ended_at:
        return []
    return [f"first acted on after {words.span(deeds[0].at - case.raised_at)}, when it had ended already"]
