"""One place's record as a table: every entry in order, what was put right struck beside what stands, and its cases."""

from collections.abc import Sequence

from county.domain.cases import Case
from county.domain.milestones import Milestone, first_time
from county.domain.picture import PlaceNow
from county.domain.record.against_targets import target_of
from county.domain.record.place_record import Line, lines
from dashboard import entry_words, words
from dashboard.board_now import Board
from dashboard.looks import trouble
from dashboard.markup import Markup, mark, quiet, tag, text
from dashboard.review.table import cells, table

_HEADS = ("No.", "Happened", "Learned", "What", "From")
_MILESTONES = (
    Milestone.ACKNOWLEDGED,
    Milestone.ASSIGNED,
    Milestone.UNDER_WAY,
    Milestone.ON_SITE,
    Milestone.CLEARED,
)


def record(board: Board, now: PlaceNow) -> Markup:
    """Every entry, first to last."""
    rows = [_row(board, line) for line in lines(now.day)]
    head = tag("tr", *(tag("th", text(name), scope="col") for name in _HEADS))
    return tag("table", tag("thead", head), tag("tbody", *rows), cls="pr-entries pr-record", aria_label="The record")


def _row(board: Board, line: Line) -> Markup:
    entry = line.entry
    learned = board.wall.second(entry.received_at)
    late = f" {words.span(line.behind)} later" if words.whole_minutes(line.behind) else ""
    made = (
        text(f"{entry.seq:,}" if entry.seq else ""),
        text(entry_words.happened(entry, board)),
        text(learned) + (quiet(late) if late else ""),
        _what(board, line),
        text(entry_words.sender(entry)),
    )
    return tag("tr", *(tag("td", cell) for cell in made))


def _what(board: Board, line: Line) -> Markup:
    clock = entry_words.by_whose_clock(line.entry)
    said = text(entry_words.what(line.entry, board)) + (quiet(f" ({clock})") if clock else "")
    if line.corrects:
        said += tag("p", quiet(f"It speaks of entry {line.corrects.seq:,}: {entry_words.what(line.corrects, board)}"))
    if not line.corrections:
        return said
    by = words.listed(f"{each.by} at {board.wall.minute(each.received_at)}" for each in line.corrections)
    if not line.struck:
        return said + tag("p", quiet(f"Spoken of again by {by}; it stands as it was told."))
    stands = "withdrawn"
    if line.stands:
        stands = f"{entry_words.happened(line.stands, board)}, {entry_words.what(line.stands, board)}"
    return tag("s", said) + tag("p", text(f"Now: {stands}. "), quiet(f"Put right by {by}."))


def cases(board: Board, every: Sequence[Case]) -> Markup:
    """Each case with its response clock: minutes from raised, the county's target beside them."""
    heads = ("Case", "Raised", "Learned", *(words.begun(each.value.replace("-", " ")) for each in _MILESTONES), "Now")
    rows = [
        [
            mark(case.effect.value) + text(words.begun(trouble(case, board.plan))),
            *cells(*(board.wall.second(at) for at in (case.raised_at, case.learned_at))),
            *(_reached(board, case, milestone) for milestone in _MILESTONES),
            text(words.STATE[case.state]),
        ]
        for case in sorted(every, key=lambda case: (case.raised_at, case.case))
    ]
    return table(heads, rows, label="Cases with their response clock")


def _reached(board: Board, case: Case, milestone: Milestone) -> Markup:
    at, target = first_time(case, milestone), target_of(case, milestone, board.plan)
    beside = quiet(f" (target {target})") if target is not None else ""
    if at is None:
        return text("–") + beside
    return text(f"{board.wall.minute(at)}, {words.span(at - case.raised_at)}") + beside
