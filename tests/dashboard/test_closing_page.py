"""Closing night, in Streamlit's own test harness: what the page says, what is refused, and what is written down."""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from county.domain.people import Role
from county.domain.standing import Standing
from dashboard.feed import Feed
from tests.builders import CLOSES, a_full_opening, a_step
from tests.custody import EVERYTHING, a_plan_with_items
from tests.dashboard.a_board import a_feed
from tests.dashboard.signed_in import looked_at_by
from tests.dashboard.test_pages import a_page, press, said, words

MINUTE = timedelta(minutes=1)
NOW = CLOSES + 80 * MINUTE
BALANCED = (
    *(
        a_step("results-printed", CLOSES + 20 * MINUTE, device=device, public_counter=count)
        for device, count in (("SC-0141", 300), ("SC-0142", 200))
    ),
    a_step("balanced", CLOSES + 50 * MINUTE, ballots_left=497, spoiled=0, check_ins=500, note="Counted <b>twice</b>."),
)
LEFT = (
    a_step("departed", CLOSES + 60 * MINUTE, items=EVERYTHING, roles=("officer in charge", "rover")),
    a_step("departed", CLOSES + 60 * MINUTE, item="used-ballots", seal_number="550055"),
)


@pytest.fixture
def feed(tmp_path: Path) -> Iterator[Feed]:
    """P014 closed, three ballots out, on the way; P015 closed with a line; nobody heard from P016, open till 20:00."""
    entries = [
        *a_full_opening(),
        a_step("closed", CLOSES, in_line=0),
        *BALANCED,
        *LEFT,
        a_step("closed", CLOSES + 2 * MINUTE, place="P015", in_line=9),
    ]
    with a_feed(tmp_path, entries, now=NOW, plan=a_plan_with_items()) as feed:
        yield feed


def begun(search: str = "p14", ticked: tuple[str, ...] = EVERYTHING) -> AppTest:
    """A receiving in which everything but the seal's number is done."""
    app = a_page("closing")
    app.text_input(key="receiving-search").set_value(search).run()
    for item in ticked:
        app.checkbox(key=f"receiving-tick~P014~{item}").check()
    app.selectbox(key="receiving-reads").set_value("receiving clerk")
    app.selectbox(key="receiving-types").set_value("desk lead")
    return app.run()


def typed(app: AppTest, number: str) -> AppTest:
    app.text_input(key="receiving-seal~P014~used-ballots~").set_value(number).run()
    assert not app.exception
    return app


def test_the_sentence_says_who_is_closed_balanced_and_back(feed: Feed) -> None:
    app = a_page("closing")
    assert words(app) == (
        "2 of 3 closed, 1 with voters still in line, 0 balanced, "
        "1 out of balance by -3 ballots net and 3 absolute, 0 back."
    )
    assert "Net -3, absolute 3 ballots over the 1 of 3 places where both counts are known." in said(app)
    assert "2 places not known yet." in said(app)
    assert "Counted &lt;b&gt;twice&lt;/b&gt;." in said(app)


def test_before_the_first_closing_the_page_says_when_it_is(feed: Feed) -> None:
    app = a_page("closing", at="2026-11-03T16:50:00-06:00")
    assert words(app) == "2 h 10 min to closing. 1 of 3 opened; none closes before 19:00."
    assert "No place has closed yet." in said(app)


def test_what_nobody_told_is_not_known_and_never_0(feed: Feed) -> None:
    app = a_page("closing")
    app.session_state["every-balance"] = True
    app.run()
    rows = said(app)
    court = rows[rows.index("Court House, P016") :].split("</tr>")[0]
    assert court.count("not known") == 8
    assert "nothing reported" in court


def test_a_place_is_taken_in_once_and_the_two_stay_for_the_next(feed: Feed) -> None:
    app = press(typed(begun(), "550055"), "Write down that it is in")
    assert "Taken in at 20:20:00: Mill Creek School, P014." in said(app)
    assert feed.latest is not None
    now = feed.latest.place_by_id["P014"]
    place, seal = now.day.told[-2:]
    assert (place.by, place.sender, place.fields["items"]) == ("Ann Lee", "board:Ann Lee", EVERYTHING)
    assert place.fields["roles"] == ("receiving clerk", "desk lead")
    assert (seal.text("item"), seal.text("seal_number"), seal.received_at) == (
        "used-ballots",
        "550055",
        place.received_at,
    )
    assert now.standing is Standing.RECEIVED
    assert not {"custody-gap", "item-missing"} & {case.exception for case in now.open_cases}
    assert app.text_input(key="receiving-search").value == ""
    assert app.selectbox(key="receiving-reads").value == "receiving clerk"
    assert "1 back." in words(app)
    press(app, "Write down that it is in")
    assert "Which place? Choose one." in said(app)
    assert feed.latest.place_by_id["P014"].day.told[-2:] == (place, seal)


def test_a_seal_that_differs_is_said_only_after_it_was_typed_and_is_kept(feed: Feed) -> None:
    app = begun()
    assert "550055" not in said(app)
    typed(app, "5500 55")
    assert "put on 550055" not in said(app)
    typed(app, "550056")
    assert "found 550056, put on 550055." in said(app)
    assert "Do not open it. Two people stay with it. Tell the lead." in said(app)
    press(app, "Write down that it is in")
    assert "Taken in at" in said(app)
    assert "found 550056, put on 550055." in said(app)
    assert words(app).startswith("At 1 place something is missing or in doubt. 2 of 3 closed")
    assert feed.latest is not None
    assert feed.latest.cases[0].case == "P014.custody-gap"


def test_what_is_not_ticked_is_asked_about_before_it_counts_as_missing(feed: Feed) -> None:
    app = typed(begun(ticked=EVERYTHING[:-1]), "550055")
    press(app, "Write down that it is in")
    assert "Not ticked: Keys. Tick it, or say that two people looked." in said(app)
    assert app.text_input(key="receiving-seal~P014~used-ballots~").value == "550055"
    app.checkbox(key="receiving-looked~P014").check().run()
    press(app, "Write down that it is in")
    assert "Not there: Keys." in said(app)
    assert feed.latest is not None
    assert "P014.item-missing" in feed.latest.case_by_id


def test_ticks_of_one_place_never_go_over_to_another(feed: Feed) -> None:
    app = begun()
    app.text_input(key="receiving-search").set_value("p15").run()
    assert not any(box.value for box in app.checkbox)
    app.text_input(key="receiving-search").set_value("p14").run()
    press(app, "Write down that it is in")
    assert "No number yet: Used ballots." in said(app)


def test_half_of_it_outlives_a_look_at_another_page(feed: Feed) -> None:
    app = typed(begun(), "5500")
    pages = Path(__file__).parents[2] / "dashboard" / "pages_"
    app.switch_page(str(pages / "exceptions.py")).run()
    app.switch_page(str(pages / "closing.py")).run()
    assert app.text_input(key="receiving-seal~P014~used-ballots~").value == "5500"
    assert app.checkbox(key="receiving-tick~P014~keys").value is True


def test_a_viewer_looks_and_takes_nothing_in_and_neither_does_anybody_in_the_past(feed: Feed) -> None:
    with looked_at_by(feed.office, "Vi Moss", Role.VIEWER):
        app = a_page("closing")
    assert "may not write down a report" in said(app)
    assert not app.button
    then = a_page("closing", at="2026-11-03T19:05:00-06:00")
    assert words(then).startswith("2 of 3 closed, 1 with voters still in line")
    assert not then.button
