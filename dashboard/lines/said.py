"""What the board says of lines and ballots, in words: the sentence of the page, a wait, an hour, a reason."""

from collections.abc import Mapping
from datetime import timedelta
from math import inf

from county.domain.ballots_left import Supply
from county.domain.lines import Wait
from dashboard import words
from dashboard.board_now import Board
from dashboard.feed import once
from dashboard.lines.found import Line, Paper, PlaceLine, PlacePaper, counted, counted_papers, lines, papers


def sentence(board: Board) -> str:
    """Voters wait more than 30 minutes at 3 of 48 places, longest at Grange Hall: about 50 (35 to 70). ..."""
    if not board.places:
        return "No places are on the roster yet."
    every = once(lines, board)
    number = counted(every)
    if number[Line.OVER] == len(every):
        return f"Voting is over at all {words.counted(len(every), 'place')}."
    if number[Line.NOT_YET] == len(every):
        first = min(now.expected.opens_at for now in board.places)
        return f"No place has opened yet; the first opens at {words.clock(first, board.zone)}."
    return " ".join(part for part in (_waits(board), _unknown(number, len(every)), _ballots(board)) if part)


def _waits(board: Board) -> str:
    every = once(lines, board)
    number = counted(every)
    limit = words.counted(board.plan.limits.wait_minutes, "minute")
    worst = every[0].wait
    if not number[Line.LONG] or worst is None:
        over = number[Line.OVER]
        of = words.counted(len(every), "place")
        return f"Voting is over at {over:,} of {of}." if over else f"No wait of more than {limit} is known of."
    lead = f"Voters wait more than {limit} at {number[Line.LONG]:,} of {words.counted(len(every), 'place')}"
    return f"{lead}, longest at {every[0].now.place.name}: {about(worst, unit='')}."


def _unknown(number: Mapping[Line, int], total: int) -> str:
    unknown = number[Line.NOT_KNOWN]
    if unknown == total:
        return "The wait is not known at any place."
    return f"The wait is not known at {words.counted(unknown, 'place')}." if unknown else ""


def _ballots(board: Board) -> str:
    number = counted_papers(once(papers, board))
    out, short = number[Paper.OUT], number[Paper.SHORT]
    none = f"No ballots are left at {words.counted(out, 'place')}." if out else ""
    soon = f"{words.counted(short, 'place runs', 'places run')} out of ballots before closing." if short else ""
    return " ".join(part for part in (none, soon) if part)


def about(wait: Wait, unit: str = " min") -> str:
    """About 50 min (35 to 70); no line; more than 46 min where nobody was served."""
    if not wait.in_line:
        return "no line"
    least, most = wait.band
    if wait.minutes == inf:
        return f"more than {least:,.0f}{unit}"
    return f"about {wait.minutes:,.0f}{unit} ({least:,.0f} to {most:,.0f})"


def people(wait: Wait) -> str:
    """46 in line, 55 served an hour by check-ins."""
    line = f"{wait.in_line:,} in line"
    if wait.pace is None:
        return line
    return f"{line}, {wait.pace.an_hour:,.0f} served an hour by {wait.basis}"


def age(of: timedelta) -> str:
    """12 min ago; just now."""
    return f"{words.span(of)} ago" if of >= timedelta(minutes=1) else "just now"


def not_known(board: Board, each: PlaceLine) -> str:
    """Why nothing is said of a line: no count, one that is old, one by which nothing can be said."""
    wait = each.wait
    if wait is None:
        opened = each.now.day.opened_at
        if opened is None:
            return f"not reported open; its hours began at {words.clock(each.now.expected.opens_at, board.zone)}"
        return f"no count of the line since it opened, {age(board.as_of - opened)}"
    told = f"last count {age(each.age)}"
    if each.age > board.plan.limits.count_old_after:
        then = f"then {about(wait)}" if wait.known else f"then {wait.in_line:,} in line"
        return f"{told}; {then}"
    return f"{wait.in_line:,} in line, {age(each.age)}; {wait.why}"


def gone(board: Board, supply: Supply) -> str:
    """About 15:40 (15:05 to 16:20); by now; no time where they last for two days or are not used."""
    at = supply.runs_out_at
    if at is None:
        return "not in sight" if supply.pace else "not known"
    if at <= board.as_of:
        return f"by now, about {words.clock(at, board.zone)}"
    first, last = (words.clock(each, board.zone) if each else "never" for each in supply.band)
    return f"about {words.clock(at, board.zone)} ({first} to {last})"


def left(supply: Supply) -> str:
    """140 left, 84 an hour over the whole day; where nobody told what is left, that it was reckoned."""
    number = f"{supply.left:,} left" if supply.told else f"{supply.left:,} left (delivered less used)"
    if supply.pace is None:
        return number
    of = "the whole day" if supply.of_day else "the last counts"
    return f"{number}, {supply.pace.an_hour:,.0f} an hour over {of}"


def paper_not_known(board: Board, each: PlacePaper) -> str:
    """Why nothing is said of ballots."""
    supply = each.supply
    if supply is None:
        return "neither ballots left nor ballots used are told"
    if each.age > board.plan.limits.count_old_after:
        return f"{supply.left:,} left, {age(each.age)}"
    return f"{supply.left:,} left, {age(each.age)}; nothing has been counted a second time yet"


def wait_here(board: Board, each: PlaceLine) -> str:
    """One place's wait in a line; empty where nobody votes there."""
    if each.line in (Line.NOT_YET, Line.OVER):
        return ""
    if each.line is Line.NOT_KNOWN or each.wait is None:
        return f"not known: {not_known(board, each)}"
    return f"{about(each.wait)}, {people(each.wait)}, {age(each.age)}"


def ballots_here(board: Board, each: PlacePaper) -> str:
    """One place's ballots in a line; empty where nobody votes there."""
    if each.paper in (Paper.NOT_YET, Paper.OVER):
        return ""
    if each.paper is Paper.NOT_KNOWN or each.supply is None:
        return f"not known: {paper_not_known(board, each)}"
    if each.paper is Paper.OUT:
        return f"none left, {age(each.age)}"
    return f"{left(each.supply)}; gone {gone(board, each.supply)}, counted {age(each.age)}"
