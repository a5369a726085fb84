"""The sentences at the top of the other pages, and the short ones beside their sections."""

from county.domain.cases import Case, State
from county.domain.effects import Effect
from county.domain.picture import PlaceNow
from county.domain.standing import Standing
from dashboard import pattern_words, words
from dashboard.board_now import Board
from dashboard.feed import once
from dashboard.looks import Group, looks

NAMED = 3


def exceptions(board: Board) -> str:
    """What needs a person: 6 open. Voting is stopped at 1 place. One case has waited 9 minutes for anybody."""
    cases = board.cases
    if not cases:
        return "No open exceptions."
    said = [f"{words.counted(len(cases), 'case')} open."]
    danger = _places(cases, Effect.DANGER)
    if danger:
        said.append(f"People are in danger at {words.counted(danger, 'place')}.")
    stands = board.totals
    parts = [
        f"stopped at {words.counted(stands[Standing.STOPPED], 'place')}" if stands[Standing.STOPPED] else "",
        f"impaired at {words.counted(stands[Standing.IMPAIRED], 'place')}" if stands[Standing.IMPAIRED] else "",
    ]
    if any(parts):
        said.append(f"Voting is {words.commas(parts)}.")
    said += [pattern_words.counted(board), _waiting(board)]
    return " ".join(part for part in said if part)


def danger(board: Board) -> str:
    """Where danger is reported, by name; empty where nobody is in danger."""
    places = dict.fromkeys(case.place for case in board.cases if case.effect is Effect.DANGER)
    names = [board.place_by_id[place].place.name for place in places]
    more = words.counted(len(names) - NAMED, "other place") if len(names) > NAMED else ""
    return f"Danger is reported at {words.listed([*names[:NAMED], more])}." if names else ""


def _waiting(board: Board) -> str:
    waiting = [case for case in board.cases if case.state is State.RAISED]
    if not waiting:
        return "Somebody has every one of them."
    longest = words.span(board.as_of - min(case.raised_at for case in waiting))
    if len(waiting) == len(board.cases) > 1:
        return f"Nobody has any of them yet; the longest has waited {longest}."
    if len(waiting) == 1:
        return f"One case has waited {longest} for anybody."
    return f"{len(waiting):,} cases have nobody yet, the longest for {longest}."


def place(board: Board, now: PlaceNow) -> str:
    """How one place is: Brook Chapel is open since 06:02, 2 minutes late. 1 case is open."""
    name, zone = now.place.name, board.zone
    opened, opens = now.day.opened_at, words.clock(now.expected.opens_at, zone)
    late = f", {words.counted(now.minutes_late, 'minute')} late" if now.minutes_late else ""
    sentences = {
        Standing.UNHEARD: f"{name} has not been heard from{late}. It opens at {opens}.",
        Standing.PREPARING: f"{name} is preparing to open at {opens}.",
        Standing.READY: f"{name} is ready to open at {opens}.",
        Standing.LATE: f"{name} is not open{late}. It was to open at {opens}.",
        Standing.CLOSED: f"{name} is closed.",
        Standing.RECEIVED: f"{name} is closed and its material is at the office.",
    }
    if opened:
        since = f"since {words.clock(opened, zone)}{late}"
        sentences |= {
            Standing.OPEN: f"{name} is open {since}.",
            Standing.IMPAIRED: f"{name} is open {since}, with voting impaired.",
            Standing.STOPPED: f"Voting is stopped at {name}. It opened at {words.clock(opened, zone)}{late}.",
        }
    count = len(now.open_cases)
    cases = f" {words.begun(words.counted(count, 'case'))} {'is' if count == 1 else 'are'} open." if count else ""
    return sentences[now.standing] + cases


def cases(board: Board) -> str:
    """How many cases are open, and how many nobody has yet."""
    nobody = sum(1 for case in board.cases if case.state is State.RAISED)
    if not board.cases:
        return "no open case"
    return f"{words.counted(len(board.cases), 'open case')}, {nobody:,} with nobody yet"


def not_shown(board: Board, most: int) -> str:
    """That a list stops before its end."""
    more = len(board.cases) - most
    return (
        f"The {most:,} worst are shown; {words.counted(more, 'other open case')}: see each place." if more > 0 else ""
    )


def linked_not_shown(number: int, most: int) -> str:
    """That a pattern links more cases than are shown."""
    return f"The {most} worst are shown; {words.counted(number - most, 'more case')}." if number > most else ""


def newest(number: int, most: int) -> str:
    """How many entries there are, and that only the newest are shown where there are more."""
    if not number:
        return "nothing yet"
    return (
        f"the newest {most} of {words.counted(number, 'entry', 'entries')}"
        if number > most
        else words.counted(number, "entry", "entries")
    )


def silent(board: Board) -> str:
    """How many places should have been heard from and were not."""
    number = sum(1 for look in once(looks, board) if look.group is Group.UNHEARD)
    return words.counted(number, "place") if number else "every place that was due has been heard from"


def set_aside(number: int, most: int) -> str:
    """How much could not be kept; of more than `most` only the newest are shown."""
    if not number:
        return "Nothing has been set aside: every report that came in was kept."
    if number > most:
        return f"More than {most:,} reports could not be kept as sent and are set aside. The newest {most:,} are shown."
    are = "is" if number == 1 else "are"
    return f"{words.counted(number, 'report')} could not be kept as sent and {are} set aside."


def _places(cases: tuple[Case, ...], effect: Effect) -> int:
    return len({case.place for case in cases if case.effect is effect})
