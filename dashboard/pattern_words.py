"""The same trouble at many places, in words: what it is, what it links, and to which pattern a case belongs."""

from collections.abc import Mapping

from county.domain.cases import Case
from county.domain.plan import Plan
from dashboard import words
from dashboard.board_now import Board
from dashboard.feed import once
from dashboard.markup import Markup, tag, text


def patterns(board: Board) -> tuple[Case, ...]:
    """The open patterns, worst first."""
    return tuple(case for case in board.cases if case.is_pattern)


def pattern_of(board: Board) -> Mapping[str, Case]:
    """The open pattern to which a case belongs, by the case's id."""
    return {name: pattern for pattern in reversed(patterns(board)) for name in pattern.links}


def sentence(board: Board) -> str:
    """5 places may share one cause: scanner jam. Empty where there is no pattern."""
    found = once(patterns, board)
    if not found:
        return ""
    kind = words.unbegun(board.plan.kind(found[0].of).says)
    more = f", and {words.counted(len(found) - 1, 'more pattern')}" if len(found) > 1 else ""
    return f"{words.counted(places(found[0]), 'place')} may share one cause: {kind}{more}."


def counted(board: Board) -> str:
    """How many patterns there are, in few words: 2 patterns over several places. Empty where there is none."""
    found = once(patterns, board)
    return f"{words.counted(len(found), 'pattern')} over several places." if found else ""


def what(case: Case, plan: Plan) -> str:
    """What a pattern is of, and at how many places: same trouble at 5 places, scanner jam."""
    return f"same trouble at {words.counted(places(case), 'place')}, {words.unbegun(plan.kind(case.of).says)}"


def places(case: Case) -> int:
    """At how many places a pattern's cases are."""
    return len({name.partition(".")[0] for name in case.links})


def by_chance(case: Case) -> str:
    """How unlikely it is: 1 in 900 by chance. Empty where nothing was said of it."""
    return case.says.rpartition("; ")[2] if "; " in case.says else ""


def linked(board: Board, case: Case) -> tuple[Case, ...]:
    """A pattern's cases, worst first, the open ones before those that ended."""
    named = set(case.links)
    return tuple(each for each in board.every_case if each.case in named)


def belongs(board: Board, case: Case) -> Markup:
    """That a case is one of a pattern; empty where it is not."""
    pattern = once(pattern_of, board).get(case.case)
    if pattern is None:
        return ""
    says = f"One of {words.counted(places(pattern), 'place')} with the same trouble, {by_chance(pattern)}: "
    return tag("p", tag("b", text(says)), text("one cause may lie behind them."), cls="pr-pattern")
