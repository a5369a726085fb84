"""The ballots of each place on closing night, what is still out, and what came back otherwise than it left."""

from collections.abc import Iterable

from county.domain.ballot_accounts import county_balance
from county.domain.closing import PlaceClosing, in_doubt
from dashboard import words
from dashboard.board_now import Board
from dashboard.closing_now import MARKS, lost, places, seal_name, way
from dashboard.feed import once
from dashboard.list_row import ListRow
from dashboard.markup import Markup, quiet, tag, text
from dashboard.review.table import table

OUT_ROWS = 8
HEADS = (
    "Place",
    "Delivered",
    "Left",
    "Not scanned",
    "By paper",
    "Scanned",
    "Difference",
    "Check-ins",
    "Scanned less check-ins",
    "Reason, or what nobody told",
)
NOT_KNOWN = "not known"
EXPLAINED = (
    "By paper: delivered less left less not scanned (auxiliary, provisional, spoiled, challenged; of these, what was "
    "not told counts as none). Difference: scanned less by paper. Net lets differences cancel, absolute does not."
)


def balance_says(board: Board) -> str:
    """Net and absolute over the places where both counts are known, and how many cannot be balanced yet."""
    every = once(places, board)
    over, known = county_balance(each.account for each in every)
    left = len(every) - known
    at = f"over the {known:,} of {words.counted(len(every), 'place')} where both counts are known"
    not_yet = f" {words.counted(left, 'place')} not known yet." if left else ""
    return f"Net {over.net:+,}, absolute {over.absolute:,} ballots {at}.{not_yet}"


def in_order(board: Board) -> list[PlaceClosing]:
    """Out of balance first, the largest difference before the others; then what is not known; then what balances."""
    return sorted(once(places, board), key=_rank)


def _rank(each: PlaceClosing) -> tuple[int, int, str]:
    off = each.difference
    return 0 if off else 1 if off is None else 2, -abs(off or 0), each.now.place.place


def off(board: Board) -> list[PlaceClosing]:
    """The places whose ballots do not balance, the largest difference first."""
    return [each for each in once(in_order, board) if each.difference]


def balance_table(board: Board, chosen: Iterable[PlaceClosing]) -> Markup:
    """A row a place; what nobody told is not known, and never 0."""
    return table(HEADS, [_ballots(each) for each in chosen], label="Ballots of each place")


def _ballots(each: PlaceClosing) -> list[Markup]:
    account = each.account
    return [
        text(f"{each.now.place.name}, {each.now.place.place}"),
        *(_count(count) for count in _counts(each)),
        _difference(each.difference),
        _count(account.check_ins if account else None),
        _signed(account.over_check_ins if account else None),
        _reason(each),
    ]


def _counts(each: PlaceClosing) -> tuple[int | None, ...]:
    """Delivered, left, not scanned, by paper, scanned."""
    account = each.account
    if account is None:
        return each.now.place.ballots_delivered, None, None, None, None
    not_scanned = account.not_scanned if account.not_scanned_told else None
    return account.delivered, account.left, not_scanned, account.by_paper, account.scanned


def _count(value: int | None) -> Markup:
    return quiet(NOT_KNOWN) if value is None else text(f"{value:,}")


def _signed(value: int | None) -> Markup:
    return text(f"{value:+,}") if value else _count(value)


def _difference(value: int | None) -> Markup:
    return tag("span", _signed(value), cls="pr-warn") if value else _count(value)


def _reason(each: PlaceClosing) -> Markup:
    """The reason written beside the balance; that a difference has none is said."""
    written = [e.text("note") for e in each.now.day.steps if e.text("step") == "balanced" and e.text("note")]
    if each.account is None or each.difference is None:
        return quiet(f"not told: {words.commas(each.account.not_told)}" if each.account else "nothing reported")
    if written:
        return text(written[-1])
    return tag("span", text("no reason written"), cls="pr-warn") if each.difference else text("")


def out(board: Board) -> list[PlaceClosing]:
    """Closed and not back: the longest on the way first, then those that have not left."""
    still = [each for each in once(places, board) if each.closed and not each.back]
    return sorted(still, key=lambda each: (each.custody.left_at or board.as_of, each.cut_off, each.now.place.place))


def out_rows(board: Board) -> list[ListRow]:
    """What is still out, with its cut-off; the first few."""
    return [_out_row(each, board) for each in once(out, board)[:OUT_ROWS]]


def _out_row(each: PlaceClosing, board: Board) -> ListRow:
    past = board.as_of >= each.cut_off
    at = words.clock(each.cut_off, board.zone)
    return ListRow(
        each.now.place.place,
        MARKS[each.stage],
        each.now.place.name,
        words.begun(way(each, board)),
        beside=each.now.place.phone,
        state=f"cut-off was {at}" if past else f"by {at}",
        alarm=past,
    )


def otherwise(board: Board) -> list[PlaceClosing]:
    """The places of which something is missing, differs, or was not looked at when it came back."""
    return [each for each in once(places, board) if lost(each) or in_doubt(each) or _unchecked(each)]


def _unchecked(each: PlaceClosing) -> str:
    """The seals of items that came back without anybody having told of them; a device may come another day."""
    items = {way.here.name for way in each.custody.items if way.back_at}
    names = ", ".join(seal_name(seal, each) for seal in each.custody.unchecked_seals if seal.on in items)
    return f"seals not checked: {names}" if names else ""


def devices_unchecked(board: Board) -> str:
    """How many devices' seals, put on at closing, nobody has told of at the office."""
    held = board.roster.device_by_id
    seals = [s for each in once(places, board) if each.back for s in each.custody.unchecked_seals if s.on in held]
    if not seals:
        return ""
    return (
        f"{words.counted(len(seals), 'seal')} on devices put on at closing, not looked at yet: devices may come later."
    )


def otherwise_rows(board: Board) -> list[ListRow]:
    """What came back otherwise than it left, and how far its case is."""
    return [_otherwise_row(each, board) for each in once(otherwise, board)]


def _otherwise_row(each: PlaceClosing, board: Board) -> ListRow:
    open_cases = in_doubt(each)
    said = [*lost(each), _unchecked(each)]
    if not lost(each):
        said = [*(words.unbegun(case.says) for case in open_cases), *said]
    return ListRow(
        each.now.place.place,
        "stopped" if open_cases else "record",
        each.now.place.name,
        words.begun(words.commas(said)),
        state=words.STATE[open_cases[0].state] if open_cases else "",
        alarm=any(case.acknowledged_at is None for case in open_cases),
    )
