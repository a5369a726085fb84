"""The day is folded before anybody reviews it, and work beside the drawing goes on after trouble."""

import threading
from pathlib import Path
from typing import Any

import pytest

from county import desk
from county.domain.both_orders import View
from county.domain.expected import Expected
from county.domain.place_state import PlaceState, state_of
from dashboard.beside import again_and_again
from tests.builders import a_count, a_full_opening, a_step, after, an_exception
from tests.dashboard.a_board import a_feed

OPENED_UNHEARD = a_step("open", after(0), place="P015", received_at=after(50))


def test_no_moment_is_folded_again_that_was_folded_ahead(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    entries = [*a_full_opening(), an_exception("fire", after(2)), OPENED_UNHEARD]
    with a_feed(tmp_path, entries, now=after(90)) as feed:
        feed.replaying.look()
        feed.replaying.look()
        folded: list[str] = []

        def counted(expected: Expected, *said: Any, **more: Any) -> PlaceState:
            folded.append(expected.place.place)
            return state_of(expected, *said, **more)

        monkeypatch.setattr("county.domain.place_replay.state_of", counted)
        beside = {minute: feed.replaying.everywhere(after(minute)) for minute in range(-90, 90)}
        assert [each.place for each in beside[20] if each.differs] == ["P015"]
        assert not any(each.differs for each in beside[55])
        assert folded == []


def test_what_comes_later_is_at_hand_after_the_next_look(tmp_path: Path) -> None:
    with a_feed(tmp_path, a_full_opening(), now=after(90)) as feed:
        feed.replaying.look()
        desk.keep(feed.office, [a_count(after(70), public_counter=9, received_at=after(71))])
        feed.refresh(at_once=True)
        feed.replaying.look()
        told = feed.replaying.replay().told("P014", after(90), View.KNOWN)
        assert told[-1].number("public_counter") == 9


def test_work_beside_the_drawing_is_tried_again_after_trouble() -> None:
    said: list[str] = []
    stopping = threading.Event()

    def work() -> None:
        said.append("tried")
        if said.count("tried") == 1:
            raise ValueError("once")
        stopping.set()

    again_and_again(work, stopping, 0.001, lambda: said.append("failed"))
    assert said == ["tried", "failed", "tried"]
