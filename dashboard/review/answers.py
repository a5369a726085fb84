"""The five questions a reviewer asks of a place, answered: when, by whose clock, who knew, what was done, how long."""

from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta

from county.domain.cases import Action, Case
from county.domain.entries import Stamp
from county.domain.milestones import Milestone, by_a_person, first_time
from county.domain.picture import PlaceNow
from county.domain.place_state import PlaceState
from county.domain.record.against_targets import target_of
from county.domain.record.late_openings import LateOpening
from county.domain.record.opening import Opening, opening
from county.domain.record.who_knew import Knew, Point, who_knew
from dashboard import entry_words, words
from dashboard.board_now import Board
from dashboard.case_rows import rover_name
from dashboard.looks import trouble
from dashboard.markup import Markup, quiet, tag, text
from dashboard.review.day import WORTH_SAYING

MOST_CASES, MANY = 3, 100
_CLOCKS = {
    Stamp.TOLD: "The sender's own: the time is as told",
    Stamp.RECEIVED: "The office's: no time was told, so the time of receipt was taken",
    Stamp.CLOCK_AHEAD: "The office's: the sender's clock was ahead and told",
    Stamp.CLOCK_BEHIND: "The office's: the sender's clock was too far behind and told",
}
_PASSED = (Milestone.ACKNOWLEDGED, Milestone.ASSIGNED, Milestone.ON_SITE, Milestone.CLEARED)


def sentence(board: Board, now: PlaceNow) -> str:
    """Mill Creek School opened at 06:34, 34 minutes late. The office knew it at 06:52."""
    name, zone, how = now.place.name, board.zone, opening(now.day)
    late = f", {_minutes(now.minutes_late)} late" if now.minutes_late else ""
    if how is None:
        due = words.clock(now.expected.opens_at, zone)
        return f"{name} is not reported open{late}. It was to open at {due}."
    when = "in time" if not late else late.removeprefix(", ")
    opened = f"{name} opened at {words.clock(how.opened_at, zone)}, {when}."
    return f"{opened} The office knew it at {words.clock(how.learned_at, zone)}."


def _minutes(minutes: int) -> str:
    """So many minutes in words, in hours where they are many."""
    return words.counted(minutes, "minute") if minutes < MANY else words.span(timedelta(minutes=minutes))


def five(board: Board, now: PlaceNow, state: PlaceState, late: LateOpening | None) -> Markup:
    """The five answers, each under its question."""
    cases = about(now, late)
    how = opening(now.day)
    answers = (
        ("When did it open?", _when(board, now, how)),
        ("By whose clock?", _whose_clock(how)),
        ("Who knew, and when?", _knew(board, state, cases, how)),
        ("What was done?", _done(board, state, cases)),
        ("How long did it take?", _how_long(board, now, cases)),
    )
    return tag("dl", *(tag("div", tag("dt", text(asks)) + tag("dd", said)) for asks, said in answers), cls="pr-answers")


def about(now: PlaceNow, late: LateOpening | None) -> tuple[Case, ...]:
    """The cases the answers speak of: the late opening and what was the matter then, else the worst of the day."""
    if late is None:
        return now.cases[:MOST_CASES]
    return tuple(case for case in (late.late, *late.trouble) if case)[:MOST_CASES]


def _when(board: Board, now: PlaceNow, how: Opening | None) -> Markup:
    due = words.clock(now.expected.opens_at, board.zone)
    if how is None:
        return text(f"No report says that it opened. Its own opening time was {due}.")
    apart = how.opened_at - now.expected.opens_at
    span = words.span(abs(apart))
    when = (
        f"{span} after"
        if apart >= timedelta(minutes=1)
        else f"{span} before"
        if -apart >= timedelta(minutes=1)
        else "at"
    )
    said = [text(f"{words.clock(how.opened_at, board.zone, seconds=True)}, {when} its own opening time {due}.")]
    if how.corrections:
        first = words.clock(how.told.happened_at, board.zone)
        by = words.listed(f"{each.by} at {words.clock(each.received_at, board.zone)}" for each in how.corrections)
        said.append(tag("p", tag("s", text(f"first told as {first}")), text(f", put right by {by}")))
    return "".join(said)


def _whose_clock(how: Opening | None) -> Markup:
    if how is None:
        return text("No time was told.")
    report = how.report
    told = f" {report.told_at}" if report.told_at else ""
    said = f"{_CLOCKS[report.stamp]}{told}. Told by {entry_words.sender(how.told)}."
    number = f" Entry {how.told.seq:,} of the ledger." if how.told.seq else ""
    a_set_clock = " The office's clock had been set, as for a rehearsal." if report.clock == "set" else ""
    return text(said) + quiet(number + a_set_clock)


def _knew(board: Board, state: PlaceState, cases: Sequence[Case], how: Opening | None) -> Markup:
    """When each trouble was true, when the office learned it and from whom, and who else was told."""
    lines = [
        (
            point.at,
            _line(_seconds(board, point.at), f"{_learned(point, case)}: {_about(board, case)}"),
        )
        for case in cases
        for point in who_knew(state, case)
        if point.what in _LEARNED
    ]
    if how:
        says = f"the office learned from {entry_words.sender(how.told)} that it was open"
        lines.append((how.learned_at, _line(_seconds(board, how.learned_at), says)))
    told = [_told(board, state, case) for case in cases]
    return _list([*_in_order(lines), *(line for line in told if line)], "Nobody was told of anything.")


_LEARNED = {Knew.TRUE: "it was so", Knew.LEARNED: "the office learned it"}
_TOLD = {
    Knew.NOTICE_ARRIVED: "arrived",
    Knew.NOTICE_FAILED: "did not arrive",
    Knew.NOTICE_ON_ITS_WAY: "on its way",
    Knew.NOBODY_TO_TELL: "nobody on shift",
}


def _learned(point: Point, case: Case) -> str:
    if point.what is Knew.TRUE:
        return _LEARNED[point.what]
    whom = {case.place: "from the place", "clock": "by its own clock"}.get(point.who, f"from {point.who}")
    return f"{_LEARNED[point.what]} {whom}"


def _told(board: Board, state: PlaceState, case: Case) -> Markup:
    """Who was told of a case, each with the time and whether it arrived, in one line."""
    points = [point for point in who_knew(state, case) if point.what in _TOLD]
    said = [f"{point.who} {words.clock(point.at, board.zone)}, {_TOLD[point.what]}" for point in points]
    return tag("li", text(f"Told of {_about(board, case)}: {'; '.join(said)}.")) if said else ""


def _done(board: Board, state: PlaceState, cases: Sequence[Case]) -> Markup:
    """What people did with each case, and how it ended, a line a case."""
    lines = []
    for case in cases:
        deeds = [point for point in who_knew(state, case) if point.what in (Knew.DID, Knew.ENDED_BY_FACTS)]
        if deeds:
            said = "; ".join(_deed(board, point) for point in deeds)
            lines.append(tag("li", tag("b", text(words.begun(_about(board, case)))), text(f": {said}.")))
    return _list(lines, "Nobody wrote down that anything was done.")


def _deed(board: Board, point: Point) -> str:
    at, note = words.clock(point.at, board.zone), point.says.rstrip(".")
    if point.what is Knew.ENDED_BY_FACTS:
        ended = "cleared" if point.action == Action.CLEAR else "withdrawn"
        return f"{at} {ended} by itself, {note}"
    late = point.learned_at if point.learned_at and point.learned_at - point.at >= WORTH_SAYING else None
    learned = f"learned {words.clock(late, board.zone)}" if late else ""
    rover = rover_name(board, point.rover) if point.rover else ""
    return words.commas([f"{at} {words.did(point.action, rover)} by {point.who}", note, learned])


def _about(board: Board, case: Case) -> str:
    return trouble(case, board.plan)


def _seconds(board: Board, at: datetime) -> str:
    return words.clock(at, board.zone, seconds=True)


def _in_order(lines: Iterable[tuple[datetime, Markup]]) -> list[Markup]:
    return [line for _, line in sorted(lines, key=lambda each: each[0])]


def _how_long(board: Board, now: PlaceNow, cases: Iterable[Case]) -> Markup:
    lines = [_took(board, case) for case in cases]
    if now.lost_minutes:
        lines.append(tag("li", text(f"{words.begun(_minutes(now.lost_minutes))} of voting lost in all.")))
    return _list(lines, "No case was raised here.")


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


def _line(at: str, says: str) -> Markup:
    return tag("li", tag("b", text(at), cls="pr-number"), text(f" {says}"))


def _list(lines: Sequence[Markup], none: str) -> Markup:
    return tag("ul", *lines) if lines else text(none)
