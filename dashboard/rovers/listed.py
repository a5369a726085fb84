"""The rovers as a list: what each does, what comes next, what it carries; and the cases that want somebody as rows."""

from collections.abc import Sequence
from urllib.parse import quote

from county.domain.cases import Case
from county.domain.dispatch import Stop
from dashboard import words
from dashboard.board_now import Board
from dashboard.list_row import ListRow
from dashboard.looks import trouble
from dashboard.markup import Markup, mark, quiet, tag, text
from dashboard.rovers import said
from dashboard.rovers.road import OnTheRoad, wanting

SHOWN_STOPS, SHOWN_WANTING = 3, 20


def rover_list(board: Board, rovers: Sequence[OnTheRoad]) -> Markup:
    """Every rover, who can be sent first."""
    return tag("ol", *(_item(board, each) for each in rovers), cls="pr-rovers", aria_label="Rovers")


def wanting_rows(board: Board) -> list[ListRow]:
    """The worst cases that want somebody, each with whom the board suggests, or why nobody can go."""
    return [_row(board, case) for case in wanting(board)[:SHOWN_WANTING]]


def not_shown(board: Board) -> str:
    """That there are more cases than are shown."""
    more = len(wanting(board)) - SHOWN_WANTING
    return (
        f"The {SHOWN_WANTING} worst are shown; {words.counted(more, 'more case')}: see Exceptions." if more > 0 else ""
    )


def _row(board: Board, case: Case) -> ListRow:
    nobody = said.nobody_can_go(board, case)
    return ListRow(
        id=case.case,
        mark=case.effect.value,
        title=board.place_by_id[case.place].place.name,
        beside=f"{trouble(case, board.plan)}, {words.bearing(case)}",
        says=said.who_goes(board, case),
        state="nobody can go" if nobody else "",
        alarm=nobody,
    )


def _item(board: Board, each: OnTheRoad) -> Markup:
    rover = each.now.rover
    head = tag(
        "div",
        tag("span", mark(said.MARKS[each.doing]), tag("b", text(rover.name or rover.rover)), cls="pr-rover-name"),
        quiet(words.commas([rover.rover, rover.zone])),
        _phone(rover.phone),
        tag("span", text(said.DOING[each.doing]), cls="pr-rover-doing"),
        cls="pr-rover-head",
    )
    parts = [head, tag("div", _does(board, each), cls="pr-rover-does"), _next(board, each)]
    return tag("li", *parts, tag("div", text(words.begun(said.carried(each))), cls="pr-quiet"), data_of=each.doing.name)


def _does(board: Board, each: OnTheRoad) -> Markup:
    says = text(said.does(board, each))
    return tag("a", says, href=_case_address(each.case.case), target="_self") if each.case else says


def _next(board: Board, each: OnTheRoad) -> Markup:
    stops = [*(_assigned(board, case) for case in each.assigned), *(_stop(board, stop) for stop in each.stops)]
    if not stops:
        return ""
    more = len(stops) - SHOWN_STOPS
    shown = stops[:SHOWN_STOPS]
    if more > 0:
        shown.append(tag("li", quiet(f"and {words.counted(more, 'more stop')}")))
    label = f"Next stops of {each.now.rover.name or each.rover}"
    return tag("ol", *shown, cls="pr-stops", aria_label=label)


def _stop(board: Board, stop: Stop) -> Markup:
    return _linked(said.stop_word(board, stop), said.stop_says(board, stop), stop.case)


def _assigned(board: Board, case: Case) -> Markup:
    return _linked("assigned", said.case_says(board, case), case.case)


def _linked(word: str, says: str, case: str) -> Markup:
    link = tag("a", text(says), href=_case_address(case), target="_self")
    return tag("li", tag("span", text(word), cls="pr-stop-word", data_of=word), text(" "), link)


def _phone(phone: str) -> Markup:
    return tag("a", text(phone), href=f"tel:{phone}") if phone else ""


def _case_address(case: str) -> str:
    return f"exceptions?case={quote(case)}"
