"""The chosen case in words: what is the matter, what was expected and found, the instruction, and what was done."""

from datetime import datetime, timedelta

from county.domain.cases import Case, CaseStep, State
from county.domain.plan import Target
from dashboard import pattern_words, words
from dashboard.board_now import Board
from dashboard.case_rows import rover_name
from dashboard.entry_words import report_line
from dashboard.evidence import expected_and_found, own_time_and_forecast, reports_behind
from dashboard.looks import trouble
from dashboard.markup import Markup, mark, quiet, tag, text
from dashboard.rover_choice import expected_of

_REPORTS, _PEOPLE = 3, 4


def panel(board: Board, case: Case) -> Markup:
    """What is the matter, what was expected and found, how far it is, and the county's instruction."""
    place = board.place_by_id[case.place].place
    where = words.commas([place.name, place.address, place.city, place.phone and f"telephone {place.phone}"])
    where = f"Begun at {where}" if case.is_pattern else where
    parts = [
        tag("p", text(where), cls="pr-quiet"),
        tag("h2", mark(case.effect.value), text(words.begun(trouble(case, board.plan))), cls="pr-case-title"),
        tag("p", text(f"{words.sentence(case.says)} "), quiet(words.sentence(words.bearing(case)))),
        pattern_words.belongs(board, case),
        own_time_and_forecast(board, case) or expected_and_found(case),
        _milestones(board, case),
        _instruction(board, case),
    ]
    return tag("div", *parts, cls="pr-case")


def record(board: Board, case: Case) -> Markup:
    """What came in about a case, who was told, and what was done; empty where there is nothing."""
    parts = [_told(board, case), _history(board, case)]
    return tag("div", *parts, cls="pr-case") if any(parts) else ""


def _instruction(board: Board, case: Case) -> Markup:
    """The county's own words: no remedy is built in."""
    instruction = board.plan.instruction(case.exception)
    return tag("p", tag("b", text("The county's instruction. ")), text(instruction), cls="pr-instruction")


def _milestones(board: Board, case: Case) -> Markup:
    """From raised to cleared: when each was reached, and by when the county wants those that were not."""
    target = board.plan.targets.get(case.effect, Target())
    reached: list[tuple[str, datetime | None, int | None, str]] = [
        ("acknowledged", case.acknowledged_at, target.acknowledge, _who(case, "acknowledge")),
        ("assigned", case.assigned_at, None, _rover(board, case)),
        ("under way", case.under_way_at, None, _who(case, "under-way")),
        ("on site", case.on_site_at, target.on_site, _who(case, "on-site")),
        ("withdrawn", case.ended_at, None, _who(case, "withdraw"))
        if case.state is State.WITHDRAWN
        else ("cleared", case.cleared_at, target.clear, _who(case, "clear")),
    ]
    if case.is_pattern:
        # nobody goes to a pattern: its cases have rovers of their own
        reached = [reached[0], reached[-1]]
    first = _milestone("raised", board.wall.minute(case.raised_at), _by_report(case), reached=True)
    return tag("ol", first, *(_step(board, case, *each) for each in reached), cls="pr-milestones")


def _step(board: Board, case: Case, name: str, at: datetime | None, minutes: int | None, who: str) -> Markup:
    if at is not None:
        return _milestone(name, board.wall.minute(at), who, reached=True)
    expected = _expected(board, case) if name == "on site" else ""
    if minutes is None or not case.state.open:
        return _milestone(name, "", expected, reached=False)
    due = case.raised_at + timedelta(minutes=minutes)
    return _milestone(name, f"due {board.wall.minute(due)}", expected, reached=False, late=due < board.as_of)


def _milestone(name: str, at: str, who: str, *, reached: bool, late: bool = False) -> Markup:
    when = tag("b", text(at)) if reached else tag("span", text(at), cls="pr-warn" if late else "")
    return tag("li", tag("span", text(name)), when, quiet(who) if who else "", cls="pr-reached" if reached else "")


def _who(case: Case, action: str) -> str:
    return next((step.by for step in reversed(case.steps) if step.action == action), "")


def _expected(board: Board, case: Case) -> str:
    """When the rover is expected on site: as was said, else as the board reckons it."""
    reckoned = expected_of(board, case)
    if not case.state.open or not case.rover or not (case.expected_at or reckoned):
        return ""
    word = "expected" if case.expected_at else "about"
    return f"{word} {board.wall.minute(case.expected_at or reckoned or board.as_of)}"


def _rover(board: Board, case: Case) -> str:
    """The rover that has the case, and when it said that it goes."""
    accepted = f"accepted {board.wall.minute(case.accepted_at)}" if case.accepted_at else ""
    return words.commas([rover_name(board, case.rover) if case.rover else "", accepted])


def _by_report(case: Case) -> str:
    return "by the place" if case.raised_by == case.place else f"by {case.raised_by}"


def _told(board: Board, case: Case) -> Markup:
    """What came in about it, the newest reports, and who was told or could not be."""
    reports = reports_behind(case, board.place_by_id[case.place])
    lines = [report_line(entry, board) for entry in reports[-_REPORTS:] if entry.kind != "raised"]
    more = len(reports) - _REPORTS
    said = [*([f"{words.counted(more, 'earlier report')} not shown"] if more > 0 else []), *lines]
    before = len(case.told) - _PEOPLE
    people = [
        *([f"{words.counted(before, 'earlier notice')} not shown"] if before > 0 else []),
        *(words.begun(told) for told in case.told[-_PEOPLE:]),
    ]
    lines = [tag("li", text(line)) for line in said]
    if people:
        lines += [tag("li", tag("b", text("Who was told"))), *(tag("li", text(line)) for line in people)]
    return tag("ul", *lines, cls="pr-told") if lines else ""


def _history(board: Board, case: Case) -> Markup:
    """What people did, in order; nothing is taken away from it."""
    if not case.steps:
        return ""
    return tag(
        "ul", *(tag("li", _did(board, step)) for step in case.steps), cls="pr-history", aria_label="What was done"
    )


def _beside(board: Board, step: CaseStep) -> list[str]:
    """What stands beside a rover's name: whom the board suggested, when it is expected, that the case is another's."""
    return [
        f"the board suggested {rover_name(board, step.suggested)}" if step.overrides else "",
        f"expected on site {board.wall.minute(step.expected_at)}" if step.expected_at else "",
        "which did not have this case" if step.of_another else "",
    ]


def _did(board: Board, step: CaseStep) -> Markup:
    happened, learned = (board.wall.minute(moment) for moment in (step.at, step.learned_at))
    times = happened if happened == learned else f"{happened}, learned {learned}"
    rover = rover_name(board, step.rover) if step.rover else ""
    what = words.commas([words.did(step.action, rover), *_beside(board, step), step.effect, step.note])
    return tag("b", text(times)) + text(f" {what} ") + quiet(step.by)
