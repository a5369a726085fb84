"""The lists of the page: a wait against the county's limit, the hour ballots run out against closing; not known."""

from datetime import timedelta
from math import inf

from county.domain.ballots_left import Supply
from dashboard import words
from dashboard.board_now import Board
from dashboard.feed import once
from dashboard.lines import said
from dashboard.lines.found import Line, Paper, PlaceLine, PlacePaper, lines, papers
from dashboard.lines.scale import Scale, minutes_of, times_of
from dashboard.list_row import ListRow
from dashboard.markup import Markup, mark, quiet, tag, text

SHOWN_LINES, MOST_LONG, SHOWN_PAPERS, SHOWN_NOT_KNOWN = 8, 20, 8, 8
MARKS = {Line.LONG: "impaired", Line.WITHIN: "open", Line.NOT_KNOWN: "unheard"}
PAPER_MARKS = {
    Paper.OUT: "stopped",
    Paper.SHORT: "at-risk",
    Paper.BEFORE_CLOSING: "not-due",
    Paper.LASTS: "open",
    Paper.NOT_KNOWN: "unheard",
}
_AFTER = timedelta(hours=1)
_KNOWN_PAPERS = (Paper.OUT, Paper.SHORT, Paper.BEFORE_CLOSING, Paper.LASTS)


def line_list(board: Board) -> Markup:
    """The longest waits, each with its band against the county's limit; empty where nobody waits a minute."""
    shown, _ = once(_shown, board)
    if not shown:
        return ""
    limit = board.plan.limits.wait_minutes
    highest = [each.wait.band[1] for each in shown if each.wait]
    scale = minutes_of(limit, [most for most in highest if most < inf])
    rows = [_line(board, each, scale, limit) for each in shown]
    return tag("ol", scale.head(), *rows, cls="pr-lines", aria_label="Places by their wait")


def _shown(board: Board) -> tuple[list[PlaceLine], list[PlaceLine]]:
    """The places where voters wait that are drawn, every long wait among them as far as there is room; and the rest."""
    known = [each for each in once(lines, board) if each.line in (Line.LONG, Line.WITHIN)]
    some = sum(1 for each in known if each.wait and each.wait.minutes >= 1)
    long = sum(1 for each in known if each.line is Line.LONG)
    number = min(some, max(SHOWN_LINES, min(long, MOST_LONG)))
    return known[:number], known[number:]


def _line(board: Board, each: PlaceLine, scale: Scale, limit: int) -> Markup:
    wait = each.wait
    assert wait is not None
    least, most = wait.band
    parts = (
        _name(each.now.place.place, each.now.place.name, MARKS[each.line]),
        scale.bar(least, min(wait.minutes, scale.ends), most, limit),
        tag("span", text(said.about(wait)), cls="pr-lines-says"),
        tag("span", text(f"{said.people(wait)}; {said.age(each.age)}"), cls="pr-lines-more"),
    )
    return tag("li", *parts, data_of=each.line.name)


def lines_not_shown(board: Board) -> str:
    """How many places with a known wait are not drawn one by one, and that none of them waits longer."""
    drawn, rest = once(_shown, board)
    if not rest or rest[0].wait is None:
        return ""
    longest = rest[0].wait.minutes
    most = f"at most {longest:,.0f} min" if longest >= 1 else "no line, or less than a minute"
    return f"{words.counted(len(rest), 'more place' if drawn else 'place')}: {most}."


def paper_list(board: Board) -> Markup:
    """The places whose ballots run out first, each with its band against its closing."""
    shown = [each for each in once(papers, board) if each.paper in _KNOWN_PAPERS][:SHOWN_PAPERS]
    if not shown:
        return ""
    ends = max(each.supply.needed_until for each in shown if each.supply) + _AFTER
    scale = times_of(min(each.supply.at for each in shown if each.supply), ends, board.as_of, board.zone)
    rows = [_paper(board, each, scale) for each in shown]
    return tag("ol", scale.head(), *rows, cls="pr-lines", aria_label="Places by when their ballots run out")


def _paper(board: Board, each: PlacePaper, scale: Scale) -> Markup:
    supply = each.supply
    assert supply is not None
    first, last = supply.band
    least, middle, most = (each.timestamp() if each else inf for each in (first, supply.runs_out_at, last))
    parts = (
        _name(each.now.place.place, each.now.place.name, PAPER_MARKS[each.paper]),
        scale.bar(least, middle, most, supply.needed_until.timestamp(), supply.at.timestamp()),
        tag("span", text(_ends(board, each.paper, supply)), cls="pr-lines-says"),
        tag("span", text(f"{said.left(supply)}; {said.age(each.age)}"), cls="pr-lines-more"),
    )
    return tag("li", *parts, data_of=each.paper.name)


def _ends(board: Board, paper: Paper, supply: Supply) -> str:
    """When they are gone, and whether that is long enough, in words."""
    gone = said.gone(board, supply)
    return {
        Paper.OUT: "none left",
        Paper.SHORT: f"short: gone {gone}",
        Paper.BEFORE_CLOSING: f"gone {gone} at this pace",
    }.get(paper, f"enough: gone {gone}")


def papers_not_shown(board: Board) -> str:
    """How many places are not drawn, how many of them run out before closing, and of how many it is not known."""
    every = once(papers, board)
    rest = [each for each in every if each.paper in _KNOWN_PAPERS][SHOWN_PAPERS:]
    early = sum(1 for each in rest if each.paper is not Paper.LASTS)
    unknown = sum(1 for each in every if each.paper is Paper.NOT_KNOWN)
    lasting = len(rest) - early
    parts = (
        f"{words.counted(early, 'other place ends', 'other places end')} before closing at this pace." if early else "",
        f"They last until closing at {words.counted(lasting, 'other place')}." if lasting else "",
        f"Not known at {words.counted(unknown, 'place')}." if unknown else "",
    )
    return " ".join(part for part in parts if part)


def not_known_rows(board: Board) -> list[ListRow]:
    """Places whose wait is not known, the longest without a count first, with the telephone."""
    unknown = [each for each in once(lines, board) if each.line is Line.NOT_KNOWN]
    return [
        ListRow(
            id=each.now.place.place,
            mark="unheard",
            title=each.now.place.name,
            beside=each.now.place.phone or "no telephone on the roster",
            says=said.not_known(board, each),
        )
        for each in unknown[:SHOWN_NOT_KNOWN]
    ]


def _name(place: str, name: str, shape: str) -> Markup:
    link = tag("a", text(name), href=f"place?place={place}", target="_self")
    return tag("span", mark(shape), link, text(" "), quiet(place), cls="pr-lines-name")
