"""Lines and ballots: the sentence, worst first, what is old or untold never shown as good, before opening and after."""

from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest

from county.domain.entries import Entry
from dashboard.board_now import Board
from dashboard.feed import Feed
from dashboard.lines import listed, said, table
from dashboard.lines.found import Line, Paper, lines, papers, place_line
from dashboard.lines.scale import Scale, minutes_of, times_of
from tests.builders import CLOSES, a_count, a_full_opening, a_plan, a_step, after, an_interruption
from tests.dashboard.a_board import a_board, a_feed
from tests.dashboard.test_pages import a_page, words
from tests.dashboard.test_pages import said as shown

OPENINGS = (*a_full_opening("P014"), *a_full_opening("P015"), *a_full_opening("P016"))
NOON = after(hours=6)


def counted(place: str, hours: float, check_ins: int, in_line: int, **more: object) -> Entry:
    return a_count(after(hours=hours), place=place, check_ins=check_ins, in_line=in_line, **more)


# two hours of sixty voters each: at P014 a long line, at P015 a short one, at P016 one count alone
COUNTS = (
    counted("P014", 4.9, 500, 20, ballots_left=400),
    counted("P014", 5.9, 560, 50, ballots_left=100),
    counted("P015", 4.9, 100, 2),
    counted("P015", 5.9, 160, 10),
    counted("P016", 5.9, 300, 9),
)
DAY = (*OPENINGS, *COUNTS)


def stands(board: Board) -> dict[str, Line]:
    return {each.now.place.place: each.line for each in lines(board)}


def test_the_sentence_says_where_voters_wait_what_is_not_known_and_who_runs_out() -> None:
    assert said.sentence(a_board(*DAY, now=NOON)) == (
        "Voters wait more than 30 minutes at 1 of 3 places, longest at Mill Creek School: about 50 (42 to 60). "
        "The wait is not known at 1 place. 1 place runs out of ballots before closing."
    )
    calm = a_board(*DAY, now=NOON, plan=a_plan(wait_minutes=60))
    assert said.sentence(calm).startswith("No wait of more than 60 minutes is known of. ")
    assert said.sentence(a_board(*OPENINGS, now=NOON)).endswith("The wait is not known at any place.")


def test_the_longest_wait_stands_first_then_what_is_not_known() -> None:
    board = a_board(*DAY, now=NOON)
    assert stands(board) == {"P014": Line.LONG, "P016": Line.NOT_KNOWN, "P015": Line.WITHIN}
    assert list(stands(board)) == ["P014", "P016", "P015"]


@pytest.mark.parametrize(("now", "line"), [(after(429), Line.WITHIN), (after(430), Line.NOT_KNOWN)])
def test_a_count_older_than_the_plan_allows_is_never_shown_as_current(now: datetime, line: Line) -> None:
    # counted at 11:54, current for 75 minutes
    assert stands(a_board(*DAY, now=now))["P015"] is line


def test_of_what_is_old_the_page_says_how_old_and_what_was_so_then() -> None:
    rows = {row.id: row.says for row in listed.not_known_rows(a_board(*DAY, now=after(hours=8)))}
    assert rows["P015"] == "last count 2 h 6 min ago; then about 10 min (8 to 12)"
    assert rows["P016"] == "last count 2 h 6 min ago; then 9 in line"
    assert {row.mark for row in listed.not_known_rows(a_board(*DAY, now=after(hours=8)))} == {"unheard"}


def test_why_a_wait_is_not_known() -> None:
    rows = {row.id: row.says for row in listed.not_known_rows(a_board(*DAY, now=NOON))}
    assert rows == {"P016": "9 in line, 6 min ago; nobody has been counted a second time yet"}
    none = {row.id: row.says for row in listed.not_known_rows(a_board(*a_full_opening(), now=after(30)))}
    assert none["P014"] == "no count of the line since it opened, 30 min ago"
    assert none["P015"] == "not reported open; its hours began at 06:00"
    assert "P016" not in none, "opens at seven"
    stopped = a_board(*DAY, an_interruption("stopped", after(350)), counted("P014", 5.95, 560, 60), now=NOON)
    assert "60 in line, 3 min ago; voting was stopped" in [row.says for row in listed.not_known_rows(stopped)]


def test_the_list_says_wait_line_pace_what_it_is_taken_from_and_how_old_it_is() -> None:
    html = listed.line_list(a_board(*DAY, now=NOON))
    assert "about 50 min (42 to 60)" in html
    assert "50 in line, 60 served an hour by check-ins; 6 min ago" in html
    assert html.index("Mill Creek School") < html.index("Grange Hall")
    assert "Court House" not in html


def test_of_many_places_the_longest_waits_are_drawn_and_the_rest_are_counted() -> None:
    board = a_board(*OPENINGS, counted("P014", 5.9, 300, 0), counted("P015", 5.9, 300, 0), now=NOON)
    assert listed.lines_not_shown(board) == "2 places: no line, or less than a minute."


def test_ballots_are_told_with_the_hour_they_are_gone_what_is_left_and_the_pace() -> None:
    board = a_board(*DAY, now=NOON)
    assert [(each.now.place.place, each.paper) for each in papers(board)] == [
        ("P014", Paper.SHORT),
        ("P015", Paper.NOT_KNOWN),
        ("P016", Paper.NOT_KNOWN),
    ]
    html = listed.paper_list(board)
    assert "short: gone about 12:14 (12:12 to 12:15)" in html
    assert "100 left, 300 an hour over the last counts; 6 min ago" in html
    assert listed.papers_not_shown(board) == "Not known at 2 places."


@pytest.mark.parametrize(
    ("before", "left", "paper", "says"),
    [
        (400, 0, Paper.OUT, "none left"),
        (700, 500, Paper.BEFORE_CLOSING, "at this pace"),
        (999, 998, Paper.LASTS, "enough: gone"),
    ],
)
def test_how_ballots_stand_is_a_word(before: int, left: int, paper: Paper, says: str) -> None:
    told = [a_count(after(hours=hours), ballots_left=number) for hours, number in ((3, before), (6, left))]
    board = a_board(*a_full_opening(), *told, now=after(hours=6.1))
    assert [each.paper for each in papers(board) if each.now.place.place == "P014"] == [paper]
    assert says in listed.paper_list(board)


def test_before_the_first_opening_and_after_the_last_voter_there_is_nothing_to_show() -> None:
    assert said.sentence(a_board(now=after(-30))) == "No place has opened yet; the first opens at 06:00."
    closed = [a_step("closed", CLOSES, place=place) for place in ("P014", "P015", "P016")]
    over = a_board(*DAY, *closed, now=after(hours=14))
    assert said.sentence(over) == "Voting is over at all 3 places."
    assert set(stands(over).values()) == {Line.OVER}
    but_one = a_board(*DAY, *closed[:2], now=after(hours=14))
    assert said.sentence(but_one) == "Voting is over at 2 of 3 places. The wait is not known at 1 place."


def test_the_table_has_every_place_in_words() -> None:
    frame = table.frame(a_board(*DAY, now=NOON))
    assert list(frame["Line"]) == ["long wait", "not known", "within the limit"]
    assert list(frame["Ballots"]) == ["run out before closing", "not known", "not known"]
    assert frame["Wait, min"].isna().tolist() == [False, True, False]


def test_a_scale_shows_what_lies_outside_at_its_edge_and_the_limit_always() -> None:
    scale = minutes_of(30, [400.0])
    assert (scale.ends, scale.share(-5), scale.share(90), scale.share(900)) == (180, 0, 50, 100)
    assert "pr-lines-middle" not in scale.bar(5, 900, 901, 30)
    hours = times_of(after(65), after(hours=13), after(70), a_board().zone)
    assert [says for _, says in hours.ticks] == ["08:00", "11:00", "14:00", "17:00"]
    assert isinstance(hours, Scale)


@pytest.fixture
def feed(tmp_path: Path) -> Iterator[Feed]:
    with a_feed(tmp_path, DAY, now=NOON) as feed:
        yield feed


def test_the_page_is_drawn_through_the_day_and_as_at_an_earlier_time(feed: Feed) -> None:
    app = a_page("lines")
    assert words(app).startswith("Voters wait more than 30 minutes at 1 of 3 places")
    assert "Ballot styles are not known here" in shown(app)
    before = a_page("lines", at="2026-11-03T05:30:00-06:00")
    assert words(before).startswith("No place has opened yet")
    assert "This is not now." in shown(before)
    assert "Nothing has been counted yet." in shown(before)


def test_the_page_of_one_place_says_its_wait_and_its_ballots(feed: Feed) -> None:
    app = shown(a_page("place", place="P014"))
    assert "about 50 min (42 to 60), 50 in line, 60 served an hour by check-ins, 6 min ago" in app
    assert "100 left, 300 an hour over the last counts; gone about 12:14 (12:12 to 12:15), counted 6 min ago" in app


def test_a_wait_at_one_place_that_is_old_is_not_known() -> None:
    board = a_board(*DAY, now=after(hours=9))
    says = said.wait_here(board, place_line(board, board.place_by_id["P014"]))
    assert says == "not known: last count 3 h 6 min ago; then about 50 min (42 to 60)"


def test_a_county_where_nobody_waits_a_minute_is_drawn_and_says_so(tmp_path: Path) -> None:
    empty = [
        counted(place, hours, check_ins, 0)
        for place in ("P014", "P015", "P016")
        for hours, check_ins in ((4.9, 500), (5.9, 560))
    ]
    with a_feed(tmp_path, [*OPENINGS, *empty], now=NOON):
        assert "3 places: no line, or less than a minute." in shown(a_page("lines"))
