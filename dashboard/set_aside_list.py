"""Reports that could not be kept: when, from whom, why, and exactly what was sent."""

from collections.abc import Sequence

from county.domain.receipts import SetAside
from dashboard import words
from dashboard.board_now import Board
from dashboard.markup import Markup, quiet, tag, text

NEWEST = 100
_REASON = {"refused": "could not be understood", "conflict": "another report stands under the same key"}


def listed(board: Board, items: Sequence[SetAside]) -> Markup:
    """A table; what was sent unfolds beneath its reason."""
    head = tag("tr", *(tag("th", text(name), scope="col") for name in ("Received", "From", "Why it was set aside")))
    return tag(
        "table", tag("thead", head), tag("tbody", *(_item(board, item) for item in items)), cls="pr-entries pr-aside"
    )


def _item(board: Board, item: SetAside) -> Markup:
    day = item.received_at.astimezone(board.zone)
    today = day.date() == board.as_of.astimezone(board.zone).date()
    received = f"{day:%H:%M:%S}" if today else f"{day:%Y-%m-%d %H:%M:%S}"
    why = [tag("b", text(words.begun(_REASON.get(item.reason, item.reason)))), *_problems(item)]
    raw = tag("details", tag("summary", text("What was sent")), tag("pre", text(item.raw)))
    cells = (text(received), text(sender(board, item)), tag("p", *why) + raw)
    return tag("tr", *(tag("td", cell) for cell in cells))


def _problems(item: SetAside) -> list[Markup]:
    return [
        tag("span", text(f"; {problem.field}: " if problem.field else "; "), quiet(problem.says))
        for problem in item.problems
    ]


def sender(board: Board, item: SetAside) -> str:
    """The place by name, the desk or the file, and where in it."""
    kind, _, name = item.sender.partition(":")
    place = board.roster.place_of(name) if kind == "place" else None
    named = {
        "place": f"{place.name}, {name}" if place else name,
        "drop": f"drop folder, {name}",
        "desk": f"desk {name}",
    }
    return words.commas([named.get(kind, item.sender), item.source])
