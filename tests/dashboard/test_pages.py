"""The pages in Streamlit's own test harness: what they say, and what a person's action does."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest
from streamlit.testing.v1.element_tree import Element

from county import desk
from county.domain.receipts import SetAside
from county.errors import Problem
from dashboard.feed import Feed
from tests.builders import OPENS, a_full_opening, a_note, a_roster, a_withdrawal, after, an_action, an_exception
from tests.dashboard.a_board import a_feed, at

DASHBOARD = Path(__file__).parents[2] / "dashboard"
FIRE = "P014.fire"


@pytest.fixture
def feed(tmp_path: Path) -> Iterator[Feed]:
    """A county with one place open and a fire reported there."""
    with a_feed(tmp_path, [*a_full_opening(), an_exception("fire", after(2))], now=after(9)) as feed:
        yield feed


def a_page(name: str, **chosen: str) -> AppTest:
    """One page of the board, drawn."""
    app = AppTest.from_file(str(DASHBOARD / "board.py"), default_timeout=30)
    for key, value in chosen.items():
        app.query_params[key] = value
    app.run()
    if name != "county":
        app.switch_page(str(DASHBOARD / "pages_" / f"{name}.py")).run()
    assert not app.exception
    return app


def html(app: AppTest) -> list[str]:
    """The page's own HTML, piece by piece."""
    return [str(each.value) for each in app.get("html") if isinstance(each, Element)]


def said(app: AppTest) -> str:
    """Everything a page says in its own HTML."""
    return "\n".join(html(app))


def words(app: AppTest) -> str:
    """The sentence at the top, without markup."""
    sentence = next(each for each in html(app) if "pr-sentence" in each)
    return " ".join(re.sub(r"<[^>]+>", "", sentence).split())


def press(app: AppTest, label: str) -> AppTest:
    next(button for button in app.button if button.label == label).click().run()
    assert not app.exception
    return app


def test_each_page_answers_its_question_first(feed: Feed) -> None:
    assert words(a_page("county")) == "0 of 3 open. 1 not heard from, 1 stopped, 1 not due to open yet."
    assert words(a_page("exceptions")).startswith("1 case open. People are in danger at 1 place.")
    assert (
        words(a_page("place", place="P014"))
        == "Voting is stopped at Mill Creek School. It opened at 06:00. 1 case is open."
    )
    assert words(a_page("set_aside")) == "Nothing has been set aside: every report that came in was kept."


def test_a_precincts_id_leads_to_its_place(feed: Feed) -> None:
    assert words(a_page("place", place="14B")).startswith("Voting is stopped at Mill Creek School.")


@pytest.mark.parametrize("page", ["county", "exceptions", "place", "set_aside"])
def test_every_page_carries_the_cautions_and_says_that_it_is_a_rehearsal(feed: Feed, page: str) -> None:
    shown = said(a_page(page))
    for caution in (
        "This board does not call 911.",
        "Operational reports, not results.",
        "Not connected to voting equipment, pollbooks or the voter file.",
        "Count people, do not name them.",
        "Local law and county counsel decide",
        "Corrections are added; nothing is deleted.",
    ):
        assert caution in shown
    assert "Rehearsal." in shown
    assert "Not the real clock:" in shown


@pytest.mark.parametrize("page", ["county", "exceptions", "place", "set_aside"])
def test_the_911_line_stands_out_on_every_page_while_danger_is_reported(feed: Feed, page: str) -> None:
    (line,) = [each for each in html(a_page(page)) if 'class="pr-911"' in each]
    assert "Danger is reported at Mill Creek School. " in line
    desk.keep(feed.office, [an_action(FIRE, "clear", after(9), note="toast")])
    feed.refresh(at_once=True)
    assert not [each for each in html(a_page(page)) if 'class="pr-911"' in each]


def test_what_is_done_is_written_down_under_the_name_of_the_person_signed_in(feed: Feed) -> None:
    app = press(a_page("exceptions"), "Acknowledge")
    assert "Written down under <b>Ann Lee</b>" in said(app)
    assert feed.latest is not None
    assert feed.latest.case_by_id[FIRE].steps[0].by == "Ann Lee"


def test_a_case_goes_its_whole_way_and_can_be_reopened(feed: Feed) -> None:
    app = a_page("exceptions")
    press(app, "Acknowledge")
    press(app, "Assign this rover")
    assert "Choose a rover first." in said(app)
    next(box for box in app.selectbox if box.label == "Rover").set_value("R03")
    at(feed, after(10))
    press(app, "Assign this rover")
    at(feed, after(11))
    press(app, "Mark under way")
    at(feed, after(12))
    press(app, "Mark on site")
    press(app, "Clear")
    assert "Say in the note how it was cleared." in said(app)
    next(field for field in app.text_input if field.label == "Note").set_value("Toast, no fire")
    at(feed, after(13))
    press(app, "Clear")
    at(feed, after(14))
    press(app, "Reopen")
    assert feed.latest is not None
    steps = [step.action for step in feed.latest.case_by_id[FIRE].steps]
    assert steps == ["acknowledge", "assign", "under-way", "on-site", "clear", "reopen"]


def test_another_desk_that_was_quicker_is_shown_and_not_overwritten(feed: Feed) -> None:
    app = a_page("exceptions")
    desk.keep(feed.office, [an_action(FIRE, "acknowledge", after(8), by="Bo Tran", sender="desk:Bo Tran")])
    press(app, "Acknowledge")
    assert "meanwhile Bo Tran (acknowledged, 06:08) acted on this case" in said(app)
    assert feed.latest is not None
    assert [step.by for step in feed.latest.case_by_id[FIRE].steps] == ["Bo Tran"]


def test_a_case_that_is_not_known_yet_is_never_shown_as_another_and_is_there_once_it_is_known(feed: Feed) -> None:
    app = a_page("exceptions", case="P015.flood")
    assert "This case is not on the board." in said(app)
    assert "Acknowledge" not in [button.label for button in app.button]
    desk.keep(feed.office, [an_exception("flood", after(2), place="P015")])
    feed.refresh(at_once=True)
    app.run()
    assert app.query_params["case"] in ("P015.flood", ["P015.flood"])
    assert "Acknowledge" in [button.label for button in app.button]


def test_a_place_shows_what_was_put_right_struck(feed: Feed) -> None:
    note = a_note(after(3), note="chairs are short")
    desk.keep(feed.office, [note, a_withdrawal(note)])
    feed.refresh(at_once=True)
    assert "<s>Note, chairs are short</s>" in said(a_page("place", place="P014"))


def test_what_was_set_aside_is_shown_with_its_reason(feed: Feed) -> None:
    aside = SetAside(
        "k", "place:P014", "endpoint", OPENS, "refused", (Problem("bogus", "no such field"),), '{"bogus": 1}'
    )
    desk.keep(feed.office, [aside])
    app = a_page("set_aside")
    assert words(app) == "1 report could not be kept as sent and is set aside."
    assert "Mill Creek School, P014" in said(app)
    assert "bogus" in said(app)


def test_an_empty_county_says_how_to_fill_it(tmp_path: Path) -> None:
    nothing = a_roster(places=(), precincts=(), devices=(), seals=(), rovers=())
    with a_feed(tmp_path, roster=nothing):
        for page in ("county", "place"):
            app = a_page(page)
            assert words(app) == "No places are on the roster yet."
            assert "python -m county roster load" in said(app)
        assert words(a_page("exceptions")) == "No open exceptions."


def test_while_the_ledger_is_read_the_page_says_so(feed: Feed) -> None:
    feed.latest = None
    assert "Reading the ledger." in said(a_page("county"))


def test_a_day_without_trouble_says_so(tmp_path: Path) -> None:
    whole = [*a_full_opening("P014"), *a_full_opening("P015"), *a_full_opening("P016")]
    with a_feed(tmp_path, whole, now=after(70)) as feed:
        assert words(a_page("county")) == "All 3 open."
        assert "every place that was due has been heard from" in said(a_page("county"))
        at(feed, after(71))
        assert words(a_page("exceptions")) == "No open exceptions."


def test_the_wall_shows_no_controls(feed: Feed) -> None:
    app = a_page("county", wall="1")
    assert words(app).startswith("0 of 3 open.")
    assert not app.button
    assert not app.selectbox
