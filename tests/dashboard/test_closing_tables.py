"""The ballots on the page Closing, with published figures: the page and the pack ask the same functions."""

import re
from dataclasses import replace

import pytest

from county.domain.roster import Roster
from dashboard import closing_now, closing_tables
from dashboard.board_now import Board
from tests.builders import CLOSES, a_roster, a_step
from tests.custody import a_plan_with_items
from tests.dashboard.a_board import a_board

# Wake County, North Carolina, precinct worksheets: delivered, left, not scanned, and the number on the tape.
WAKE = [(2_001, 1_166, 47, 788), (3_203, 2_685, 6, 512), (1_401, 963, 7, 431), (3_100, 2_131, 35, 934)]


def closed(*balances: tuple[str, dict[str, int]], roster: Roster | None = None) -> Board:
    """The board long after closing, with a balance told by each of these places."""
    entries = [a_step("balanced", CLOSES, place=place, **said) for place, said in balances]
    return a_board(*entries, now=CLOSES.replace(hour=3), plan=a_plan_with_items(), roster=roster)


def cells(board: Board) -> dict[str, list[str]]:
    """Each row of the table by its place's name."""
    table = closing_tables.balance_table(board, closing_tables.in_order(board))
    rows = [re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row) for row in table.split("<tr>")[2:]]
    plain = [[re.sub(r"<[^>]+>", "", cell) for cell in row] for row in rows]
    return {row[0].partition(",")[0]: row[1:] for row in plain}


@pytest.mark.parametrize(("delivered", "left", "not_scanned", "tape"), WAKE)
def test_wake_countys_worksheets_stand_there_as_published(
    delivered: int, left: int, not_scanned: int, tape: int
) -> None:
    said = {"ballots_delivered": delivered, "ballots_left": left, "spoiled": not_scanned, "public_counter": tape}
    row = cells(closed(("P014", said)))["Mill Creek School"]
    assert row[:6] == [f"{delivered:,}", f"{left:,}", f"{not_scanned:,}", f"{tape:,}", f"{tape:,}", "0"]


def test_wake_countys_one_too_many_stands_there_and_must_have_a_reason() -> None:
    # 1,480 scanned against 1,479 check-ins
    said = {"ballots_delivered": 2_000, "ballots_left": 521, "public_counter": 1_480, "check_ins": 1_479}
    board = closed(("P014", said))
    assert cells(board)["Mill Creek School"][5:] == ["+1", "1,479", "+1", "no reason written"]
    assert "1 out of balance by +1 ballot net and 1 absolute" in closing_now.sentence(board)


def test_detroits_net_and_absolute_stand_there_side_by_side() -> None:
    # Detroit 2016, as the Detroit News reported: 128 too many and 88 too few
    roster = a_roster()
    places = tuple(replace(place, ballots_delivered=1_000) for place in roster.places)
    board = closed(
        ("P014", {"ballots_left": 500, "public_counter": 628}),
        ("P015", {"ballots_left": 500, "public_counter": 412}),
        roster=replace(roster, places=places),
    )
    assert closing_tables.balance_says(board).startswith("Net +40, absolute 216 ballots over the 2 of 3 places")
    assert "2 out of balance by +40 ballots net and 216 absolute" in closing_now.sentence(board)
    assert list(cells(board)) == ["Mill Creek School", "Grange Hall", "Court House"]


def test_what_nobody_told_is_not_known_and_never_0() -> None:
    row = cells(closed(("P014", {"ballots_left": 500})))["Mill Creek School"]
    assert row == ["1,000", "500", "not known", "500", *["not known"] * 4, "not told: every scanner’s count"]
