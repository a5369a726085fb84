"""A desk sends a rover: chosen beforehand, overridable, on record; and two desks that act on one case at once."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from county.domain.cases import Case, State
from county.domain.dispatch_settings import DispatchSettings, Need
from county.domain.effects import Effect
from county.domain.people import Role
from county.domain.roster import Rover
from dashboard import acting
from dashboard.feed import Feed
from tests.builders import a_full_opening, a_plan, a_roster, after, an_exception
from tests.dashboard.a_board import a_feed, at
from tests.dashboard.signed_in import looked_at_by
from tests.dashboard.test_pages import a_page, html, press, said

JAM = "P014.scanner-jam"
WAYS = {("R03", "P014"): 9.0, ("R04", "P014"): 14.0}
PLAN = replace(a_plan(), dispatch=DispatchSettings(needs={"scanner-jam": Need(20)}, matrix=WAYS, steps=2_000))
ROSTER = a_roster(rovers=(Rover("R03", "Ada Quillon"), Rover("R04", "Ben Hale")))


@pytest.fixture
def feed(tmp_path: Path) -> Iterator[Feed]:
    """A county with one jam, and what the board suggests for it."""
    jam = an_exception("scanner-jam", after(2))
    with a_feed(tmp_path, [*a_full_opening(), jam], now=after(9), plan=PLAN, roster=ROSTER) as feed:
        feed.suggesting.look()
        feed.refresh(at_once=True)
        yield feed


def the_case(feed: Feed, case: str = JAM) -> Case:
    assert feed.latest is not None
    return feed.latest.case_by_id[case]


def the_rover(app: AppTest) -> str | None:
    found: str | None = next(box for box in app.selectbox if box.label == "Rover").value
    return found


def choose(app: AppTest, rover: str) -> AppTest:
    return next(box for box in app.selectbox if box.label == "Rover").set_value(rover).run()


def note(app: AppTest, text: str, label: str = "Note") -> None:
    next(field for field in app.text_input if field.label == label).set_value(text)


def acknowledged(feed: Feed) -> AppTest:
    app = press(a_page("exceptions"), "Acknowledge")
    at(feed, after(10))
    feed.suggesting.look()
    feed.refresh(at_once=True)
    return app.run()


def test_the_suggested_rover_is_chosen_beforehand_with_its_reason(feed: Feed) -> None:
    assert "Suggested: Ada Quillon. Nearest free rover, 9 min; next best 14. On site about 06:18." in said(
        a_page("exceptions")
    )
    app = acknowledged(feed)
    assert the_rover(app) == "R03"
    press(app, "Assign this rover")
    step = the_case(feed).steps[-1]
    assert (step.rover, step.suggested, step.overrides) == ("R03", "R03", False)
    assert the_case(feed).expected_at == after(19)
    assert "expected 06:19" in said(app.run())


def test_another_rover_is_the_desk_s_choice_and_the_case_says_whom_the_board_suggested(feed: Feed) -> None:
    app = choose(acknowledged(feed), "R04")
    press(app, "Assign this rover")
    step = the_case(feed).steps[-1]
    assert (step.rover, step.suggested, step.overrides) == ("R04", "R03", True)
    assert "assigned Ben Hale, the board suggested Ada Quillon, expected on site 06:24" in said(app.run())


def test_a_newer_suggestion_is_followed_until_the_desk_has_chosen_for_itself(feed: Feed) -> None:
    app = acknowledged(feed)
    feed.act(JAM, {"key": "k-1", "action": "cannot", "rover": "R03", "note": "flat tyre"}, "Ann Lee")
    feed.suggesting.look()
    feed.refresh(at_once=True)
    app.run()
    assert the_rover(app) == "R04"
    choose(app, "R03")
    feed.act(JAM, {"key": "k-2", "action": "cannot", "rover": "R04", "note": "no spare"}, "Ann Lee")
    feed.suggesting.look()
    feed.refresh(at_once=True)
    assert the_rover(app.run()) == "R03"


def test_a_rover_accepts_and_another_cannot_and_the_case_is_the_desks_again(feed: Feed) -> None:
    app = press(acknowledged(feed), "Assign this rover")
    at(feed, after(11))
    press(app.run(), "Rover accepts")
    assert the_case(feed).accepted_at == after(11)
    assert "Ada Quillon, accepted 06:11" in said(app.run())
    assert not [button for button in app.button if button.label == "Rover accepts"]
    press(app, "Rover cannot go")
    assert "Say in the note why the rover cannot go." in said(app)
    note(app, "flat tyre")
    at(feed, after(12))
    press(app, "Rover cannot go")
    assert (the_case(feed).state, the_case(feed).rover) == (State.ACKNOWLEDGED, "")
    assert "turned down by Ada Quillon, flat tyre" in said(app.run())


def test_a_lead_changes_the_effect_with_the_reason(feed: Feed) -> None:
    app = a_page("exceptions")
    press(app, "Change the effect")
    assert "Choose another effect first." in said(app)
    next(box for box in app.selectbox if box.label == "Effect on voting").set_value("stopped")
    press(app, "Change the effect")
    assert "Say why its effect is another." in said(app)
    note(app, "it is the only scanner", "Why")
    press(app, "Change the effect")
    assert the_case(feed).effect is Effect.STOPPED
    assert "effect changed, stopped, it is the only scanner" in said(app.run())


def test_a_desk_that_is_no_lead_is_not_offered_what_a_lead_decides(feed: Feed) -> None:
    with looked_at_by(feed.office, "Cy Ort", Role.DESK):
        labels = [button.label for button in a_page("exceptions").button]
    assert "Change the effect" not in labels
    assert "Withdraw" not in labels
    assert "Acknowledge" in labels


FIRST = {
    "Assign this rover": "assigned Ada Quillon, 06:10",
    "Clear": "cleared, 06:10",
    "Withdraw": "withdrawn, 06:10",
    "Change the effect": "effect changed, voting stopped, 06:10",
}


def ready(app: AppTest) -> AppTest:
    """Everything typed that any of the deeds needs."""
    note(app, "as seen from here")
    note(app, "as seen from here", "Why")
    next(box for box in app.selectbox if box.label == "Effect on voting").set_value("stopped")
    return app


@pytest.mark.parametrize("second", FIRST)
@pytest.mark.parametrize("first", FIRST)
def test_the_second_desk_is_told_what_the_first_did_and_overwrites_nothing(feed: Feed, first: str, second: str) -> None:
    ours = ready(acknowledged(feed))
    with looked_at_by(feed.office, "Bo Tran", Role.LEAD):
        press(ready(a_page("exceptions", case=JAM)), first)
    before = the_case(feed)
    assert [step.by for step in before.steps] == ["Ann Lee", "Bo Tran"]
    press(ours, second)
    expected = f"Nothing was written down: meanwhile Bo Tran ({FIRST[first]}) acted on this case."
    assert any(expected in each for each in html(ours))
    assert the_case(feed) == before


def test_two_desks_that_send_two_rovers_send_one_and_the_other_sees_whom(feed: Feed) -> None:
    ours = acknowledged(feed)
    choose(ours, "R04")
    with looked_at_by(feed.office, "Bo Tran", Role.LEAD):
        theirs = press(a_page("exceptions", case=JAM), "Assign this rover")
    press(ours, "Assign this rover")
    assert the_case(feed).rover == "R03"
    assert "meanwhile Bo Tran (assigned Ada Quillon, 06:10) acted on this case" in said(ours)
    assert "Ada Quillon" in said(ours.run())
    at(feed, after(11))
    press(ours, "Send another rover")
    assert the_case(feed).rover == "R04", "whoever has seen it may decide otherwise"
    assert "meanwhile" not in said(theirs)


def test_even_closer_than_a_redraw_nothing_is_overwritten(feed: Feed, monkeypatch: pytest.MonkeyPatch) -> None:
    """The other desk writes after this one has looked for what others did, and before it writes itself."""
    ours, look = acknowledged(feed), acting._meanwhile

    def too_early(case: Case, key: str) -> str:
        monkeypatch.setattr(acting, "_meanwhile", look)
        says = look(case, key)
        feed.act(JAM, {"key": "theirs", "action": "clear", "note": "cleaned"}, "Ann Lee", seen=None)
        return says

    monkeypatch.setattr(acting, "_meanwhile", too_early)
    press(ours, "Assign this rover")
    assert "meanwhile Ann Lee (cleared, 06:10) acted on this case" in said(ours)
    assert the_case(feed).state is State.CLEARED
    assert [step.action for step in the_case(feed).steps] == ["acknowledge", "clear"]
