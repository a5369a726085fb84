"""Every place's line and ballots as a table: the same in words, for a keyboard and a screen reader."""

from math import inf

import pandas as pd

from dashboard import words
from dashboard.board_now import Board
from dashboard.feed import once
from dashboard.lines import said
from dashboard.lines.found import Line, Paper, PlaceLine, PlacePaper, lines, papers

LINES = {
    Line.LONG: "long wait",
    Line.WITHIN: "within the limit",
    Line.NOT_KNOWN: "not known",
    Line.NOT_YET: "not open yet",
    Line.OVER: "over",
}
PAPERS = {
    Paper.OUT: "none left",
    Paper.SHORT: "run out before closing",
    Paper.BEFORE_CLOSING: "run out before closing at this pace",
    Paper.LASTS: "last until closing",
    Paper.NOT_KNOWN: "not known",
    Paper.NOT_YET: "not open yet",
    Paper.OVER: "over",
}


def frame(board: Board) -> pd.DataFrame:
    """Every place, the longest wait first."""
    paper = {each.now.place.place: each for each in once(papers, board)}
    rows = [_row(board, each, paper[each.now.place.place]) for each in once(lines, board)]
    return pd.DataFrame(rows).astype({"Wait, min": "Int64", "In line": "Int64", "Ballots left": "Int64"})


def _row(board: Board, each: PlaceLine, paper: PlacePaper) -> dict[str, object]:
    wait, supply = each.wait, paper.supply
    minutes = wait.minutes if wait and wait.known else inf
    return {
        "Place": each.now.place.name,
        "Id": each.now.place.place,
        "Line": LINES[each.line],
        "Wait, min": round(minutes) if minutes < inf else None,
        "In line": wait.in_line if wait else None,
        "Counted": words.clock(wait.at, board.zone) if wait else "",
        "Ballots": PAPERS[paper.paper],
        "Ballots left": supply.left if supply else None,
        "Gone": said.gone(board, supply) if supply and paper.paper is not Paper.OVER else "",
        "Telephone": each.now.place.phone,
    }
