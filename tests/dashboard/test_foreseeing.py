"""Openings are foreseen beside the drawing: newer forecasts make a newer board, trouble with them breaks nothing."""

import time
from pathlib import Path

import pytest

from county import desk
from county.domain.both_orders import View
from county.domain.moments import write_moment
from county.domain.openings import forecast_openings
from county.domain.picture import Picture, known
from county.forecasting import paces
from dashboard import feed as feeds
from dashboard import foreseeing, then
from dashboard.board_now import Board
from dashboard.feed import Feed
from dashboard.then import Then
from tests.builders import a_full_opening, a_step, after, before
from tests.dashboard.a_board import a_feed, at
from tests.dashboard.test_pages import a_page, said

ENTRIES = [a_step("staffed", before(40)), *a_full_opening("P015")]
ENOUGH = 10.0


def latest(feed: Feed) -> Board:
    assert feed.latest is not None
    return feed.latest


def test_a_board_is_drawn_without_waiting_for_a_forecast_and_again_when_there_is_one(tmp_path: Path) -> None:
    with a_feed(tmp_path, ENTRIES, now=before(10)) as feed:
        first = latest(feed)
        assert not first.forecasts
        feed.foreseeing.look()
        feed.refresh(at_once=True)
        assert (feed.revision, set(latest(feed).forecasts)) == (first.revision + 1, {"P014"})
        feed.foreseeing.look()
        feed.refresh(at_once=True)
        assert feed.revision == first.revision + 1, "the same forecast is no news"


def test_it_is_made_anew_with_every_minute_and_every_step(tmp_path: Path) -> None:
    with a_feed(tmp_path, ENTRIES, now=before(10)) as feed:
        feed.foreseeing.look()
        first = feed.foreseeing.latest["P014"]
        at(feed, before(2))
        feed.foreseeing.look()
        later = feed.foreseeing.latest["P014"]
        assert later.latest > first.latest
        desk.keep(feed.office, [a_step("open", before(2), received_at=before(2))])
        feed.refresh(at_once=True)
        feed.foreseeing.look()
        assert "P014" not in feed.foreseeing.latest


def test_it_is_kept_up_in_a_thread_of_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(foreseeing, "EVERY_SECONDS", 0.01)
    with a_feed(tmp_path, ENTRIES, now=before(10)) as feed, feeds.following(feed):
        until = time.monotonic() + ENOUGH
        while time.monotonic() < until and not latest(feed).forecasts:
            time.sleep(0.02)
        assert set(latest(feed).forecasts) == {"P014"}


def test_where_none_can_be_reckoned_nothing_is_foreseen_and_the_board_goes_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def broken(*_: object) -> object:
        raise RuntimeError("no paces")

    monkeypatch.setattr(foreseeing, "EVERY_SECONDS", 0.01)
    with a_feed(tmp_path, ENTRIES, now=before(10)) as feed:
        feed.foreseeing.look()
        assert feed.foreseeing.latest
        monkeypatch.setattr(foreseeing, "forecasts", broken)
        at(feed, before(9))
        with feeds.following(feed):
            until = time.monotonic() + ENOUGH
            while time.monotonic() < until and "no opening can be forecast" not in caplog.text:
                time.sleep(0.02)
        assert "no opening can be forecast" in caplog.text
        assert not feed.foreseeing.latest
        feed.refresh(at_once=True)
        assert not latest(feed).forecasts


def test_a_page_as_known_at_a_time_has_the_forecast_of_that_time_and_one_as_it_happened_has_none(
    tmp_path: Path,
) -> None:
    late = a_step("site-ready", before(30), received_at=before(5))
    with a_feed(tmp_path, [*ENTRIES, late, a_step("open", after(9))], now=after(60)) as feed:
        board = then.board_of(Then(before(10), View.KNOWN), latest(feed))
        office = feed.picture
        picture = Picture.of(office.roster, office.plan, known([*ENTRIES, late], before(10)))
        usual = paces(feed.office, office.plan)
        assert board.forecasts == forecast_openings(picture.places.values(), usual, office.plan, before(10))
        assert board.forecasts["P014"].step == "site-ready", "what came later was not known then"
        assert not then.board_of(Then(before(10), View.HAPPENED), latest(feed)).forecasts
        knew, was = (said(a_page("county", at=write_moment(before(10)), view=view.value)) for view in View)
        assert "a bar when it will likely open" in knew
        assert "No openings are forecast here" in was
        assert "No openings are forecast here" not in knew
