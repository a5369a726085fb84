"""Messages, in Streamlit's own test harness: whom it goes to, the second question, who has not acknowledged."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from county.domain.people import Role
from dashboard import place_day_chart, place_panel
from dashboard.feed import Feed
from dashboard.messages_now import sent, unseen
from tests.builders import a_message, a_note, a_seen, a_step, after, clock
from tests.dashboard.a_board import a_board, a_feed, at
from tests.dashboard.signed_in import looked_at_by
from tests.dashboard.test_pages import a_page, press, said, words

COURT = "Polls stay open until 19:30 by order of the court."


@pytest.fixture
def feed(tmp_path: Path) -> Iterator[Feed]:
    """P014 heard from, P015 open, P016 not due yet."""
    with a_feed(tmp_path, [a_note(after(1)), a_step("open", after(1), place="P015")], now=after(9)) as feed:
        yield feed


def written(app: AppTest, text: str = COURT, choice: str = "every place", **which: list[str]) -> AppTest:
    """A message that is written and not yet sent."""
    app.radio(key="message-choice").set_value(choice).run()
    for name, values in which.items():
        app.multiselect(key=f"message-{name}").set_value(values)
    app.text_area(key="message-text").set_value(text)
    return app.run()


def told(feed: Feed) -> dict[str, list[str]]:
    """Which place was told what."""
    assert feed.latest is not None
    return {now.place.place: [each.text for each in now.day.messages] for now in feed.latest.places if now.day.messages}


def test_to_many_it_goes_only_after_a_second_yes(feed: Feed) -> None:
    app = written(a_page("messages"))
    assert words(app) == "No message has been sent."
    press(app, "Send to 3 places")
    assert "Send this to 3 places? It cannot be taken back." in said(app)
    assert COURT in said(app)
    assert told(feed) == {}
    press(app, "Not yet")
    assert app.text_area(key="message-text").value == COURT
    press(press(app, "Send to 3 places"), "Yes, send to 3 places")
    assert told(feed) == {place: [COURT] for place in ("P014", "P015", "P016")}
    assert "to 3 places." in said(app)
    assert app.text_area(key="message-text").value == ""
    assert words(app) == "3 places have not acknowledged a message, the longest for 0 min."


def test_to_one_place_it_goes_at_once(feed: Feed) -> None:
    press(written(a_page("messages"), choice="chosen places", places=["P015"]), "Send to 1 place")
    assert told(feed) == {"P015": [COURT]}
    assert feed.latest is not None
    (message,) = sent(feed.latest)
    assert (message.by, message.to, message.places) == ("Ann Lee", "Grange Hall", ("P015",))


def test_places_are_chosen_by_how_they_stand(feed: Feed) -> None:
    app = written(a_page("messages"), choice="places by how they stand", standings=["late", "unheard"])
    press(press(app, "Send to 2 places"), "Yes, send to 2 places")
    assert sorted(told(feed)) == ["P014", "P016"]
    assert "places late and not heard from" in said(app)


def test_it_goes_to_those_who_were_shown_whatever_has_changed_since(feed: Feed) -> None:
    app = written(a_page("messages"), choice="places by how they stand", standings=["late", "unheard"])
    press(app, "Send to 2 places")
    feed.take({"key": "open-1", "place": "P014", "kind": "step", "step": "open"}, "Ann Lee")
    press(app, "Yes, send to 2 places")
    assert sorted(told(feed)) == ["P014", "P016"]


def test_what_cannot_be_sent_is_said_and_stays(feed: Feed) -> None:
    app = written(a_page("messages"), "   ", "chosen places", places=["P015"])
    press(app, "Send to 1 place")
    assert "Not sent: is needed: say what the places are to know." in said(app)
    assert told(feed) == {}


def test_changed_hours_do_not_change_the_roster_and_the_page_says_so(feed: Feed) -> None:
    assert "Changed hours do not change the roster by themselves" in said(a_page("messages"))


def test_who_has_not_acknowledged_longest_first_and_what_to_read_out(feed: Feed) -> None:
    feed.send_message("m-1", COURT, "every place", ["P014", "P015"], "Ann Lee")
    at(feed, after(14))
    feed.send_message("m-2", "Bring the <b>spare</b> seals", "P014", ["P014"], "Ann Lee")
    at(feed, after(25))
    app = a_page("messages")
    assert words(app) == "2 places have not acknowledged a message, the longest for 16 min."
    assert feed.latest is not None
    assert [each.id for each in unseen(feed.latest)] == ["P014 m-1", "P015 m-1", "P014 m-2"]
    assert "Mill Creek School, P014." in said(app)
    assert "&lt;b&gt;spare&lt;/b&gt;" in said(app)
    assert "<b>spare" not in said(app)
    press(app, "Write down that they have it")
    assert "say who has acknowledged it, by role" in said(app)
    app.radio(key="seen-role-P014 m-1").set_value("officer in charge")
    press(app, "Write down that they have it")
    assert "Mill Creek School has it, says the officer in charge." in said(app)
    assert [each.id for each in unseen(feed.latest)] == ["P015 m-1", "P014 m-2"]
    (seen, _) = feed.latest.place_by_id["P014"].day.messages
    assert (seen.seen_role, seen.seen_by, seen.seen_door) == ("officer in charge", "Ann Lee", "board")


def test_a_viewer_sees_and_sends_nothing(tmp_path: Path) -> None:
    with a_feed(tmp_path, now=after(5)) as feed:
        feed.send_message("m-1", COURT, "every place", ["P014"], "Ann Lee")
        with looked_at_by(feed.office, "Vi", Role.VIEWER):
            app = a_page("messages")
            assert COURT in said(app)
            assert "may not send messages" in said(app)
            assert [button.label for button in app.button] == []


def test_a_message_stands_in_the_places_day(feed: Feed) -> None:
    entries = [a_message(clock("06:10")), a_seen(clock("06:17"), role="officer in charge")]
    board = a_board(*entries, now=clock("06:30"))
    shown = place_panel.entries(board, board.place_by_id["P014"])
    assert "Message to the place: Polls stay open until 19:30." in shown
    assert "Acknowledged the message sent 06:10, officer in charge" in shown
    notes = place_day_chart.place_day(board, "P014")["params"]
    assert "acknowledged 06:17" in str(notes)
    waiting = place_day_chart.place_day(a_board(entries[0], now=clock("06:30")), "P014")["params"]
    assert "not acknowledged for 20 min" in str(waiting)


def test_seals_put_on_at_the_end_are_not_held_against_the_old_ones() -> None:
    left = a_step("balanced", clock("20:45"), device="SC-0141", seal_position="front", seal_number="770001")
    found = a_step("seals-checked", clock("05:40"), device="SC-0141", seal_position="front", seal_number="A100")
    board = a_board(found, left, now=clock("21:00"))
    shown = place_panel.devices(board, board.place_by_id["P014"])
    assert "770001" in shown
    assert "put on at the end" in shown
    assert "found, A100 recorded" not in shown
