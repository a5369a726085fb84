"""Taking a call, in Streamlit's own test harness: what is known, what is refused, and what is written down."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from dashboard.feed import Feed
from tests.builders import a_full_opening, after, an_action, an_exception
from tests.dashboard.a_board import a_feed
from tests.dashboard.test_pages import a_page, press, said, words

LOUD = 'class="pr-911"'


@pytest.fixture
def feed(tmp_path: Path) -> Iterator[Feed]:
    """One place open, with a scanner jam that a rover is under way to."""
    case = "P014.scanner-jam"
    entries = [
        *a_full_opening(),
        an_exception("scanner-jam", after(10)),
        an_action(case, "acknowledge", after(11)),
        an_action(case, "assign", after(12), rover="R03"),
        an_action(case, "under-way", after(13)),
    ]
    with a_feed(tmp_path, entries, now=after(20)) as feed:
        yield feed


def answered(app: AppTest, search: str = "mil crek", **other: str) -> AppTest:
    """A call with every question answered."""
    app.text_input(key="call-search").set_value(search).run()
    app.radio(key="call-voting").set_value(other.get("voting", "slower"))
    app.radio(key="call-danger").set_value(other.get("danger", "no"))
    app.selectbox(key="call-exception").set_value(other.get("exception", "long-line"))
    app.selectbox(key="call-role").set_value("officer in charge")
    app.text_input(key="call-since").set_value(other.get("since", "5 min"))
    app.text_input(key="call-note").set_value("40 people")
    return app.run()


def test_a_call_is_written_down_under_the_call_takers_name(feed: Feed) -> None:
    app = press(answered(a_page("call")), "Write it down")
    assert "Mill Creek School, P014, long line. It is number" in said(app)
    assert feed.latest is not None
    entry = feed.latest.place_by_id["P014"].day.told[-1]
    assert (entry.by, entry.sender, entry.door) == ("Ann Lee", "board:Ann Lee", "board")
    assert entry.text("note") == "Call from an officer in charge; 40 people"
    assert entry.text("since") == "2026-11-03T12:15:00Z"
    assert "P014.long-line" in feed.latest.case_by_id
    assert app.text_input(key="call-search").value == ""
    assert words(app).startswith("Take a call. 2 cases open")


def test_what_is_known_at_the_place_is_said_with_who_is_coming(feed: Feed) -> None:
    app = a_page("call")
    app.text_input(key="call-search").set_value("14B").run()
    assert "Mill Creek School, P014." in said(app)
    assert "Already known" not in said(app)
    app.selectbox(key="call-exception").set_value("scanner-jam").run()
    assert "Already known: </b>scanner jam since 06:10, rover Rover Three under way." in said(app)


def test_where_several_places_may_be_meant_a_person_chooses(feed: Feed) -> None:
    app = press(answered(a_page("call"), search="h"), "Write it down")
    assert "Which place? Choose one." in said(app)
    assert {option.split(" (")[0] for option in app.radio(key="call-place").options} == {"Grange Hall", "Court House"}
    app.radio(key="call-place").set_value("P015").run()
    press(app, "Write it down")
    assert "Written down" in said(app)
    assert "Grange Hall, P015" in said(app)


def test_the_911_line_is_loud_at_once(feed: Feed) -> None:
    app = a_page("call")
    assert LOUD not in said(app)
    app.radio(key="call-danger").set_value("yes").run()
    assert LOUD in said(app)
    app.radio(key="call-danger").set_value("no").run()
    assert LOUD not in said(app)
    app.selectbox(key="call-exception").set_value("fire").run()
    assert "This kind of trouble counts as danger." in said(app)


def test_a_refusal_is_said_by_field_and_nothing_typed_is_lost(feed: Feed) -> None:
    app = press(answered(a_page("call"), since="7:55"), "Write it down")
    assert "07:55 is still to come." in said(app).replace("Is still", "is still")
    assert app.text_input(key="call-note").value == "40 people"
    assert app.radio(key="call-voting").value == "slower"
    app.text_input(key="call-since").set_value("6:10")
    press(app, "Write it down")
    assert "It is number" in said(app)


def test_pressing_twice_is_one_report(feed: Feed) -> None:
    app = answered(a_page("call"))
    before = feed.office
    button = next(each for each in app.button if each.label == "Write it down")
    button.click().run()
    assert feed.office is before
    assert feed.latest is not None
    told = len(feed.latest.place_by_id["P014"].day.told)
    press(app, "Write it down")
    assert len(feed.latest.place_by_id["P014"].day.told) == told
    assert "Which place? Choose one." in said(app)


def test_what_was_typed_outlives_a_look_at_another_page(feed: Feed) -> None:
    app = answered(a_page("call"))
    pages = Path(__file__).parents[2] / "dashboard" / "pages_"
    app.switch_page(str(pages / "exceptions.py")).run()
    app.switch_page(str(pages / "call.py")).run()
    assert app.text_input(key="call-note").value == "40 people"
    assert app.selectbox(key="call-exception").value == "long-line"
    assert app.radio(key="call-voting").value == "slower"


def test_the_callers_words_are_text_and_never_markup(feed: Feed) -> None:
    app = a_page("call")
    app.text_input(key="call-search").set_value("<script>alert(1)</script>").run()
    assert "<script>" not in said(app)
