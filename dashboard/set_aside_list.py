"""Reports that could not be kept: when, from whom, why, and exactly what was sent."""

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from county.domain.entries import Entry
from county.domain.receipts import SetAside
from dashboard import words
from dashboard.board_now import Board
from dashboard.markup import Markup, quiet, tag, text

NEWEST = 100
ALL_SETTLED = "Everything that was set aside has been settled."
_REASON = {"refused": "could not be understood", "conflict": "another report stands under the same key"}


def listed(board: Board, items: Sequence[SetAside], settled: Mapping[int, Entry] = MappingProxyType({})) -> Markup:
    """A table; what was sent unfolds beneath its reason, and beside it what became of it where that is settled."""
    names = ("Item", "Received", "From", "Why it was set aside")
    head = tag("tr", *(tag("th", text(name), scope="col") for name in names))
    rows = (_item(board, item, settled.get(item.number)) for item in items)
    return tag("table", tag("thead", head), tag("tbody", *rows), cls="pr-entries pr-aside")


def _became(board: Board, outcome: Entry | None) -> Markup:
    if outcome is None:
        return ""
    what = outcome.text("outcome"), f"under the key {outcome.text('took')}" if outcome.text("took") else ""
    at = words.clock(outcome.happened_at, board.zone)
    said = words.commas([f"{what[0]} {at} by {outcome.by}", what[1], outcome.text("reason")])
    return tag("p", tag("b", text(words.sentence(said))))


def _item(board: Board, item: SetAside, outcome: Entry | None) -> Markup:
    day = item.received_at.astimezone(board.zone)
    today = day.date() == board.as_of.astimezone(board.zone).date()
    received = f"{day:%H:%M:%S}" if today else f"{day:%Y-%m-%d %H:%M:%S}"
    why = [tag("b", text(words.begun(_REASON.get(item.reason, item.reason)))), *_problems(item)]
    raw = tag("details", tag("summary", text("What was sent")), tag("pre", text(item.raw)))
    reason = tag("p", *why) + _became(board, outcome) + raw
    cells = (text(f"{item.number:,}"), text(received), text(sender(board, item)), reason)
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
