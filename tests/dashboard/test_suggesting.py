"""Suggestions are worked out beside the drawing: a newer one makes a newer board, trouble with one breaks nothing."""

import time
from pathlib import Path

import pytest

from dashboard import feed as feeds
from dashboard import suggesting
from tests.builders import a_full_opening, an_exception
from tests.dashboard.a_board import a_feed

ENTRIES = [*a_full_opening(), an_exception("other")]


def test_a_board_is_drawn_without_waiting_for_a_suggestion_and_again_when_there_is_one(tmp_path: Path) -> None:
    with a_feed(tmp_path, ENTRIES) as feed:
        first = feed.latest
        assert first is not None
        assert first.dispatch is None
        feed.suggesting.look()
        feed.refresh(at_once=True)
        assert feed.latest is not None
        assert feed.revision == first.revision + 1
        assert feed.latest.dispatch is not None
        assert feed.latest.dispatch.stop_for("P014.other") is not None
        feed.refresh(at_once=True)
        assert feed.revision == first.revision + 1, "the same suggestion is no news"


def test_it_is_kept_up_in_a_thread_of_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(suggesting, "EVERY_SECONDS", 0.01)
    with a_feed(tmp_path, ENTRIES) as feed, feeds.following(feed):
        until = time.monotonic() + 10
        while time.monotonic() < until and not (feed.latest and feed.latest.dispatch):
            time.sleep(0.02)
        assert feed.latest is not None
        assert feed.latest.dispatch is not None


def test_where_none_can_be_worked_out_nobody_is_suggested_and_the_board_goes_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def broken(*_: object) -> object:
        raise RuntimeError("no ways")

    monkeypatch.setattr(suggesting, "EVERY_SECONDS", 0.01)
    monkeypatch.setattr(suggesting, "suggestion", broken)
    with a_feed(tmp_path, ENTRIES) as feed, feeds.following(feed):
        until = time.monotonic() + 10
        while time.monotonic() < until and "no rover can be suggested" not in caplog.text:
            time.sleep(0.02)
        assert "no rover can be suggested" in caplog.text
        assert feed.suggesting.latest is None
        assert feed.latest is not None
