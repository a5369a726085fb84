"""Where what the office knew and what was so differ, by how much, and who had acted: one row a place."""

from collections.abc import Mapping, Sequence
from datetime import timedelta

from county.domain.entries import REPORT_KINDS, Entry, Kind
from county.domain.record.opening import opening
from county.domain.replay import Beside, Replay
from county.domain.standing import Standing
from dashboard import entry_words, words
from dashboard.board_now import Board
from dashboard.feed import once
from dashboard.list_row import ListRow
from dashboard.review.moment import Moment

SHOWN = 8
_OPENED = (Standing.OPEN, Standing.IMPAIRED, Standing.STOPPED)


def rows(moment: Moment, board: Board, replay: Replay) -> list[ListRow]:
    """The places that differ, those whose opening was learned the latest first; each leads to its record."""
    longest = sorted(moment.apart, key=lambda each: -_opening_behind(each, board))
    return [_row(each, moment, board, replay) for each in longest[:SHOWN]]


def _opening_behind(each: Beside, board: Board) -> timedelta:
    """How much later the office learned of the opening, where it did not know of it yet; else nothing."""
    if each.happened.opened_at is None or each.known.opened_at is not None:
        return timedelta(0)
    return once(behind, board).get(each.place, timedelta(0))


def behind(board: Board) -> Mapping[str, timedelta]:
    """By place, how much later than it opened the office learned of it."""
    every = ((now.place.place, opening(now.day)) for now in board.places)
    return {place: how.behind for place, how in every if how}


def more(moment: Moment) -> str:
    """That there are more than are shown."""
    left = len(moment.apart) - SHOWN
    return f"{words.counted(left, 'more place')} differ; each place's record has them." if left > 0 else ""


def _row(each: Beside, moment: Moment, board: Board, replay: Replay) -> ListRow:
    now = board.place_by_id[each.place]
    unlearned = replay.unlearned(each.place, moment.at) if each.place in replay.places else ()
    telling = _telling(unlearned)
    behind = _later(telling.received_at - telling.happened_at) if telling else ""
    parts = [_how(each, board), _learned(telling, board) if telling else _put_right(each, moment, board)]
    return ListRow(
        id=each.place,
        mark=each.happened.standing.value,
        title=now.place.name,
        beside=now.place.zone,
        says=" ".join(part for part in (*parts, _acted(each.place, moment, board)) if part),
        state=behind,
    )


def _later(behind: timedelta) -> str:
    return f"learned {words.span(behind)} later" if words.whole_minutes(behind) else "learned within a minute"


def _telling(unlearned: Sequence[Entry]) -> Entry | None:
    """The report that says most of what was not known: the opening, else trouble, else the last one."""
    reports = [entry for entry in unlearned if entry.kind in REPORT_KINDS]
    opened = next((entry for entry in reports if entry.text("step") in ("open", "closed")), None)
    trouble = next((entry for entry in reports if entry.kind in (Kind.EXCEPTION, Kind.INTERRUPTION)), None)
    return opened or trouble or (reports[-1] if reports else None)


def _how(each: Beside, board: Board) -> str:
    knew, was = (_standing(side.standing, side.opened_at, board) for side in (each.known, each.happened))
    if knew != was:
        return f"Known: {knew}. It was: {was}."
    apart = len(each.happened.open_cases) - len(each.known.open_cases)
    if apart:
        side = "more" if apart > 0 else "fewer"
        return f"{words.begun(was)}; {words.counted(abs(apart), f'case {side}', f'cases {side}')} than known."
    return f"{words.begun(was)}; other cases than known."


def _standing(standing: Standing, opened_at: object, board: Board) -> str:
    since = f" since {board.wall.minute(opened_at)}" if standing in _OPENED and opened_at else ""  # type: ignore[arg-type]
    return f"{words.STANDING[standing]}{since}"


def _learned(entry: Entry, board: Board) -> str:
    what = _what(entry, board)
    happened, learned = (board.wall.minute(each) for each in (entry.happened_at, entry.received_at))
    return f"{happened}: {what}; learned {learned} from {entry_words.sender(entry)}."


def _put_right(each: Beside, moment: Moment, board: Board) -> str:
    """What the office had been told by then and what later reports put right."""
    for righted in board.place_by_id[each.place].day.corrected:
        later = [entry for entry in righted.corrections if entry.received_at > moment.at]
        if later and righted.told.received_at <= moment.at:
            what = _what(righted.told, board)
            at = board.wall.minute(later[0].received_at)
            return f"Put right at {at} by {later[0].by}: {what}."
    return ""


def _acted(place: str, moment: Moment, board: Board) -> str:
    """What the office had last done by then."""
    acted = [entry for entry in board.place_by_id[place].day.actions if entry.received_at <= moment.at]
    if not acted:
        return "Nobody had acted yet."
    last = max(acted, key=lambda entry: entry.received_at)
    at = board.wall.minute(last.happened_at)
    return f"Last done: {_what(last, board)}, {at} by {last.by}."


def _what(entry: Entry, board: Board) -> str:
    """What an entry says, as it stands within a sentence."""
    return words.unbegun(entry_words.what(entry, board)).rstrip(".")
