"""The one way to the desk: a newer board when something is new, the same one for everybody until then."""

from dataclasses import replace
from pathlib import Path

import pytest

from county import desk
from county.clock import Clock
from county.domain.receipts import Outcome
from county.errors import NotFound
from dashboard import feed
from dashboard.board_now import Board
from dashboard.feed import once
from tests.builders import a_full_opening, a_step, after, an_exception
from tests.dashboard.a_board import a_board, a_feed, at


def test_a_board_is_made_again_only_when_something_is_new_or_a_minute_began(tmp_path: Path) -> None:
    with a_feed(tmp_path) as board:
        first = board.revision
        board.refresh(at_once=True)
        assert board.revision == first
        desk.keep(board.office, [a_step("staffed")])
        board.refresh(at_once=True)
        assert board.revision == first + 1
        at(board, after(0.5))
        assert board.revision == first + 1
        at(board, after(1))
        assert board.revision == first + 2


def test_boards_are_made_at_most_once_a_second(tmp_path: Path) -> None:
    with a_feed(tmp_path) as board:
        first = board.revision
        for number in range(5):
            desk.keep(board.office, [a_step("staffed", after(number))])
            board.refresh()
        assert board.revision <= first + 1
        board.refresh(at_once=True)
        assert board.latest is not None
        assert len(board.latest.place_by_id["P014"].day.steps) == 5


def test_within_a_minute_only_touched_places_are_looked_at_again(tmp_path: Path) -> None:
    with a_feed(tmp_path) as board:
        before = board.latest
        desk.keep(board.office, list(a_full_opening("P014")))
        board.refresh(at_once=True)
        assert before is not None
        assert board.latest is not None
        assert board.latest.place_by_id["P015"] is before.place_by_id["P015"]
        assert board.latest.place_by_id["P014"].day.opened_at is not None


def test_an_action_is_kept_under_the_persons_name_and_seen_at_once(tmp_path: Path) -> None:
    with a_feed(tmp_path, [an_exception("fire")]) as board:
        receipt = board.act("P014.fire", {"key": "k1", "action": "acknowledge"}, "Ann Lee")
        assert receipt.outcome is Outcome.KEPT
        assert board.act("P014.fire", {"key": "k1", "action": "acknowledge"}, "Ann Lee").outcome is Outcome.ALREADY_HELD
        assert board.latest is not None
        (step,) = board.latest.case_by_id["P014.fire"].steps
        assert (step.action, step.by) == ("acknowledge", "Ann Lee")
        assert desk.ledger_pages(board.office)[-1]["sender"] == "board:Ann Lee"
        with pytest.raises(NotFound):
            board.act("P014.flood", {"key": "k2", "action": "acknowledge"}, "Ann Lee")


def test_what_is_made_of_a_board_is_made_once_and_goes_with_it() -> None:
    calls = []

    def build(board: Board, most: int = 3) -> list[int]:
        calls.append(most)
        return [most]

    board = a_board()
    assert once(build, board) is once(build, board)
    assert once(build, board, 7) == [7]
    assert once(build, a_board()) == [3]
    assert calls == [3, 7, 3]


def test_trouble_with_the_ledger_grows_old_instead_of_stopping_the_feed(tmp_path: Path) -> None:
    with a_feed(tmp_path) as board:
        board.office.engine.dispose()
        whole = board.latest
        (tmp_path / "pollrise.db").unlink()
        board.office = replace(board.office, clock=Clock(after(3), speed=0))
        with feed.following(board):
            assert board.latest is whole or board.latest is not None
        assert board.seconds_since_read() >= 0


def test_pages_cannot_be_drawn_without_a_feed() -> None:
    with pytest.raises(RuntimeError, match="python -m dashboard"):
        feed.newest()
