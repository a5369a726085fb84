"""Which places need a look, why, and in what order: the worst first, never by the alphabet."""

from dataclasses import dataclass
from datetime import timedelta
from enum import IntEnum

from county.domain.cases import Case
from county.domain.effects import Effect
from county.domain.expected import ExpectedStep
from county.domain.opening_forecast import OpeningForecast
from county.domain.picture import PlaceNow
from county.domain.plan import Plan
from county.domain.standing import Standing
from dashboard import foreseen, words
from dashboard.board_now import Board
from dashboard.foreseen import Outlook
from dashboard.pattern_words import what

SHORT = 48
"""As many letters of a report's own words as stand in a row without being cut."""
_STOPPING = (Effect.DANGER, Effect.STOPPED)
EXPECTED_LATE, CLOCK = "expected-late", "clock"
_SAID_BY_THE_PLACE = frozenset({"late-opening", EXPECTED_LATE, "step-overdue", "silent"})


class Group(IntEnum):
    """Where a place belongs in the county's count, the worst first; every place is in exactly one."""

    STOPPED = 0
    HELD_UP = 1
    UNHEARD = 2
    LATE = 3
    IMPAIRED = 4
    EXPECTED_LATE = 5
    OVERDUE = 6
    OPEN = 7
    ON_COURSE = 8
    NOT_DUE = 9
    CLOSED = 10
    RECEIVED = 11

    @property
    def needs_a_look(self) -> bool:
        return self <= Group.OVERDUE


_BY_STANDING = {
    Standing.STOPPED: Group.STOPPED,
    Standing.IMPAIRED: Group.IMPAIRED,
    Standing.OPEN: Group.OPEN,
    Standing.LATE: Group.LATE,
    Standing.CLOSED: Group.CLOSED,
    Standing.RECEIVED: Group.RECEIVED,
}
_MARKS = {Group.HELD_UP: "held-up", Group.EXPECTED_LATE: EXPECTED_LATE, Group.NOT_DUE: "not-due"}


@dataclass(frozen=True, slots=True)
class Look:
    """One place, the group it is counted in, the shape it is drawn with, and when it will likely open."""

    now: PlaceNow
    group: Group
    mark: str
    forecast: OpeningForecast | None = None

    @property
    def rank(self) -> tuple[int, int, int, float, str]:
        """Worst group first; within it the worst effect, then the most minutes late, then who will likely open last.

        Of places expected late, when they will likely open counts before anything else.
        """
        worst = min((case.effect.rank for case in self.now.open_cases), default=len(Effect))
        if self.group is Group.EXPECTED_LATE:
            worst = 0
        return (self.group, worst, -self.now.minutes_late, -self.seconds_after, self.now.place.place)

    @property
    def seconds_after(self) -> float:
        """How long after its own time it will likely open; 0 where nothing is forecast."""
        forecast = self.forecast
        return (forecast.middle - forecast.opens_at).total_seconds() if forecast else 0.0


def looks(board: Board) -> tuple[Look, ...]:
    """Every place of the county, worst first."""
    found = []
    for now in board.places:
        forecast = foreseen.forecast_of(board, now)
        group = _group(now, forecast, board)
        mark = _MARKS.get(group, now.standing.value)
        found.append(Look(now, group, mark, forecast))
    return tuple(sorted(found, key=lambda look: look.rank))


def overdue(now: PlaceNow, board: Board) -> tuple[ExpectedStep, ...]:
    """The steps of a place that should be done by now and are not, the longest overdue first."""
    late = [step for step in now.expected.steps if step.overdue_at <= board.as_of and step.key not in now.day.done]
    return tuple(sorted(late, key=lambda step: step.overdue_at))


def trouble(case: Case, plan: Plan) -> str:
    """What a case is about, in few words: what kind of trouble, and on which device."""
    said = about(case, plan, SHORT)
    return f"{said}, {case.device}" if case.device else said


def about(case: Case, plan: Plan, room: int) -> str:
    """The kind of trouble; for `other` the report's own words, where they are no longer than there is room for."""
    if case.is_pattern:
        return what(case, plan)
    kind = plan.kind(case.exception).says
    own_words = case.says.removeprefix(f"{kind}: ").rstrip(".") if case.exception == "other" else ""
    return words.unbegun(own_words if 0 < len(own_words) <= room else kind)


def _group(now: PlaceNow, forecast: OpeningForecast | None, board: Board) -> Group:
    if now.standing in _BY_STANDING:
        return _BY_STANDING[now.standing]
    if any(case.effect in _STOPPING and case.exception != "late-opening" for case in now.open_cases):
        return Group.HELD_UP
    if now.standing is Standing.UNHEARD:
        return Group.UNHEARD if board.as_of >= now.expected.first_due_at else Group.NOT_DUE
    outlook = foreseen.outlook(forecast, board.plan) if forecast else None
    cases = [case for case in now.open_cases if outlook is not Outlook.ON_COURSE or not _was_forecast(case)]
    if outlook is Outlook.LATE or any(case.exception == EXPECTED_LATE for case in cases):
        return Group.EXPECTED_LATE
    at_risk = any(case.effect is not Effect.RECORD for case in cases)
    return Group.OVERDUE if at_risk or overdue(now, board) else Group.ON_COURSE


def _was_forecast(case: Case) -> bool:
    """Whether only an earlier forecast stands behind a case; where a newer one says otherwise, that one counts."""
    return case.exception == EXPECTED_LATE and case.raised_by == CLOCK


def says(look: Look, board: Board) -> str:
    """In few words what is the matter at a place: the worst that is known of it, and how long it has lasted.

    When it will likely open stands behind it, where that may be later than its own time.
    """
    now, group = look.now, look.group
    own = [case for case in now.open_cases if case.exception not in _SAID_BY_THE_PLACE]
    more = f", {words.counted(len(own) - 1, 'more case')}" if len(own) > 1 else ""
    late = f"{now.minutes_late} min late" if group in (Group.LATE, Group.UNHEARD) and now.minutes_late else ""
    likely = _likely(look, board)
    if own:
        return words.commas([words.begun(words.listed([late, trouble(own[0], board.plan)])) + more, likely])
    if group is Group.NOT_DUE:
        return f"Opens {words.clock(now.expected.opens_at, board.zone)}; nothing is due yet"
    if group is Group.UNHEARD:
        due = words.clock(now.expected.first_due_at, board.zone)
        return words.begun(words.listed([late, f"nothing heard, first step was due {due}"]))
    if group is Group.EXPECTED_LATE:
        return words.begun(likely or board.plan.kind(EXPECTED_LATE).says)
    behind = late if late and likely else _behind(now, board, late)
    return words.begun(words.commas([behind, likely]) or _next(now, board))


def _likely(look: Look, board: Board) -> str:
    """When the place will likely open; empty where it is on course, and where nothing is forecast."""
    forecast = look.forecast
    on_course = forecast is None or foreseen.outlook(forecast, board.plan) is Outlook.ON_COURSE
    return "" if forecast is None or on_course else foreseen.likely(forecast, board)


def _next(now: PlaceNow, board: Board) -> str:
    """What comes next at a place where nothing is the matter."""
    if now.day.opened_at:
        return f"{words.STANDING[now.standing]} since {words.clock(now.day.opened_at, board.zone)}"
    step = next((step for step in now.expected.steps if step.key not in now.day.done and step.key != "open"), None)
    if now.standing is Standing.READY or step is None:
        return words.STANDING[now.standing]
    return f"next: {words.step(step.key)}, due {words.clock(step.due_at, board.zone)}"


def _behind(now: PlaceNow, board: Board, late: str) -> str:
    """How late the place is, and which step it waits for."""
    steps = [step for step in overdue(now, board) if step.key != "open" or not late]
    if not steps:
        silent = next((case for case in now.open_cases if case.exception == "silent"), None)
        return late or (f"nothing heard for {_since(board, silent)}" if silent and now.day.last_heard_at else "")
    first = f"{words.step(steps[0].key)} {words.span(board.as_of - steps[0].due_at)} overdue"
    more = f", {words.counted(len(steps) - 1, 'more step')}" if len(steps) > 1 else ""
    return words.listed([late, first]) + more


def _since(board: Board, silent: Case) -> str:
    heard = board.place_by_id[silent.place].day.last_heard_at
    return words.span(board.as_of - heard) if heard else words.span(timedelta(0))
