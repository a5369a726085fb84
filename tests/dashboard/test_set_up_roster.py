"""Dropping the county's own lists on the Set-up page: looked at, put right, confirmed, loaded; never half."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from county import desk
from county.domain.people import Person, Role
from county.domain.roster import Roster
from county.staffing import add_person, change_role
from dashboard.feed import Feed
from tests.an_office import PLAN_TEXT, at, the_plan
from tests.dashboard.a_board import a_feed
from tests.dashboard.test_pages import press, said
from tests.dashboard.test_set_up_page import part

PLACES = "place,name,address,city\nA1,Elm Hall,1 Elm St,Elmton\nA2,Oak Church,3 Oak Rd,Elmton\n"
OWN_LIST = "Polling Location,Street Address,Town,Number\nElm Hall,1 Elm St,Elmton,4\nOak Church,3 Oak Rd,Elmton,5\n"
SURE = "roster-sure"


@pytest.fixture
def feed(tmp_path: Path) -> Iterator[Feed]:
    """An office without a roster."""
    (tmp_path / "plan.toml").write_text(PLAN_TEXT, encoding="utf-8")
    with a_feed(tmp_path, now=at("05:30"), plan=the_plan(), roster=Roster()) as feed:
        yield feed


def drop(name: str, text: str) -> AppTest:
    app = part("Roster")
    app.file_uploader[0].upload(name, text.encode(), "text/csv").run()
    assert not app.exception
    return app


def may_load(app: AppTest) -> bool:
    return not next(button for button in app.button if button.key == "roster-load").disabled


def names(feed: Feed) -> list[str]:
    return [place.name for place in desk.roster(feed.office).places]


def test_nothing_is_loaded_before_it_was_seen(feed: Feed) -> None:
    app = drop("places.csv", PLACES)
    assert "Loading these would bring 2 places added." in said(app)
    assert names(feed) == []
    assert may_load(app)
    app = press(app, "Load this roster")
    assert "Loaded. 2 places added." in said(app)
    assert names(feed) == ["Elm Hall", "Oak Church"]
    assert not app.file_uploader[0].value


def test_a_mistake_is_named_with_its_row_and_nothing_can_be_loaded(feed: Feed) -> None:
    app = drop("places.csv", PLACES.replace("A2", "A1"))
    assert "in the way" in said(app)
    assert "places.csv, row 3" in said(app)
    assert not may_load(app)


def test_a_doubtful_column_must_be_confirmed_first(feed: Feed) -> None:
    app = drop("list.csv", OWN_LIST)
    assert "How list.csv is read" in said(app)
    assert "&#x27;Number&#x27; is taken for the place" in said(app)
    assert not may_load(app)
    app.checkbox(key=SURE).check().run()
    assert may_load(app)
    press(app, "Load this roster")
    assert [place.place for place in desk.roster(feed.office).places] == ["4", "5"]
    assert SURE not in app.session_state


def test_another_column_can_be_chosen_for_what_was_guessed(feed: Feed) -> None:
    app = drop("list.csv", OWN_LIST)
    app.selectbox(key="roster-map-list.csv-place").set_value("(left out)")
    app = press(app, "Read it so")
    assert "is taken for the place" not in said(app)
    press(app, "Load this roster")
    assert names(feed) == ["Elm Hall", "Oak Church"]
    assert "4" not in {place.place for place in desk.roster(feed.office).places}


def test_the_same_files_again_change_nothing(feed: Feed) -> None:
    press(drop("places.csv", PLACES), "Load this roster")
    app = drop("places.csv", PLACES)
    assert "nothing would change" in said(app)
    assert not may_load(app)


def test_whoever_may_not_any_more_loads_nothing(feed: Feed) -> None:
    app = drop("places.csv", PLACES)
    add_person(feed.office, Person("Bo Fenn", Role.LEAD))
    change_role(feed.office, "Ann Lee", Role.VIEWER)
    next(button for button in app.button if button.key == "roster-load").click().run()
    assert names(feed) == []


def test_a_file_that_is_no_list_is_said_to_be_none(feed: Feed) -> None:
    app = drop("places.csv", "\x00\x01\x02")
    assert "in the way" in said(app)
    assert not may_load(app)
