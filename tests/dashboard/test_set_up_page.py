"""The Set-up page: what each part says, and what is done, refused or asked once more there."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from county import desk, plans, staffing, upkeep
from county.domain.intake import Hand
from county.domain.people import Person, Role
from county.domain.roster import Roster
from county.domain.senders import Sender
from county.errors import UnknownKey
from county.settings import settings_from
from county.signing_in import check_password
from dashboard.feed import Feed
from tests.an_office import PLAN_TEXT, ROSTER, at, the_plan
from tests.dashboard.a_board import a_feed
from tests.dashboard.test_pages import a_page, press, said, words

OTHER_HOURS = PLAN_TEXT.replace('opens = "06:00"', 'opens = "07:00"')


@pytest.fixture
def feed(tmp_path: Path) -> Iterator[Feed]:
    """Two places, one scanner each, nothing else set up."""
    (tmp_path / "plan.toml").write_text(PLAN_TEXT, encoding="utf-8")
    with a_feed(tmp_path, now=at("05:30"), plan=the_plan(), roster=ROSTER) as feed:
        yield feed


def part(name: str, app: AppTest | None = None) -> AppTest:
    """The Set-up page, at one of its parts."""
    app = app or a_page("set_up")
    app.session_state["set-up-part"] = name
    app.run()
    assert not app.exception
    return app


def change_the_plan(app: AppTest, text: str, why: str = "") -> AppTest:
    app.text_area(key="plan-text").set_value(text)
    app.text_input(key="plan-note").set_value(why)
    return press(app, "Check it and make it the plan")


def test_the_sentence_says_first_whether_the_county_is_ready(feed: Feed) -> None:
    app = a_page("set_up")
    assert words(app).startswith("Not ready: 3 things stop the day, ")
    shown = said(app)
    for says in (
        "2 places have no reporting key",
        "The clock is not the real one",
        "still says that this is a rehearsal",
    ):
        assert says in shown
    assert shown.index("stops the day") < shown.index("to look at</span>") < shown.index("a hint")


def test_each_part_lists_what_is_to_be_done_in_it_and_nothing_else(feed: Feed) -> None:
    shown = said(part("Keys and cards"))
    assert "2 places have no reporting key" in shown
    assert "never rehearsed" not in shown


def test_the_plan_stands_there_in_tables(feed: Feed) -> None:
    app = part("Plan")
    app.session_state["plan-table"] = "Steps"
    assert "15 min before opening" in said(app.run())
    app.session_state["plan-table"] = "Instructions"
    assert "the general text" in said(app.run())


def test_a_changed_plan_is_in_force_at_once_and_the_one_before_stays_readable(feed: Feed) -> None:
    app = change_the_plan(part("Plan"), PLAN_TEXT.replace("Zero report printed", "Zero tape printed"), "our word")
    assert "Version 2 is the plan" in said(app)
    assert feed.latest is not None
    assert "Zero tape printed" in {step.says for step in feed.latest.plan.steps}
    first, second = plans.standing(feed.office).versions
    assert (first.text, second.by, second.note) == (PLAN_TEXT, "Ann Lee", "our word")
    assert "<ins>+says = &quot;Zero tape printed&quot;</ins>" in said(app)


def test_a_mistake_in_the_text_is_said_with_its_line_and_nothing_typed_is_lost(feed: Feed) -> None:
    wrong = PLAN_TEXT.replace("county = ", "country = ")
    app = change_the_plan(part("Plan"), wrong)
    assert "line 4" in said(app)
    assert "“country = &quot;Wrenfield County&quot;”" in said(app)
    assert app.text_area(key="plan-text").value == wrong
    assert plans.standing(feed.office).versions == ()


def test_what_the_day_rests_on_is_asked_once_more_and_may_be_left(feed: Feed) -> None:
    app = change_the_plan(part("Plan"), OTHER_HOURS)
    assert "Is it meant?" in said(app)
    assert "07:00 to 19:00, not 06:00" in said(app)
    app = press(app, "No, leave the plan as it is")
    assert "Is it meant?" not in said(app)
    assert plans.standing(feed.office).versions == ()
    app = press(change_the_plan(app, OTHER_HOURS), "Yes, make it so")
    assert "Version 2 is the plan" in said(app)


def test_a_text_begun_before_somebody_elses_version_is_not_laid_over_it(feed: Feed) -> None:
    app = part("Plan")
    office = feed.office
    hand = desk_hand(feed)
    plans.save(office, PLAN_TEXT.replace("-15m", "-16m"), hand, based_on=0)
    feed.refresh(at_once=True)
    app = change_the_plan(app, PLAN_TEXT.replace("-15m", "-20m"))
    assert "Version 2 was made meanwhile by Hollis" in said(app)
    assert "newer version since this text was begun" in said(app)
    app = press(app, "Begin again from the newest")
    assert "-16m" in str(app.text_area(key="plan-text").value)


def desk_hand(feed: Feed) -> Hand:
    return Hand("desk:other", "Hollis", "board", feed.now())


def test_keys_go_to_whoever_has_none_and_the_cards_are_there_once(feed: Feed) -> None:
    (older,) = upkeep.issue_keys(feed.office, [Sender.at_place("P014")])
    app = press(part("Keys and cards"), "Issue keys to 1 place and 1 rover and make the cards")
    assert {"place:P014": 1, "place:P015": 1, "rover:R03": 1}.items() <= upkeep.live_keys(feed.office).items()
    assert desk.find_sender(feed.office, older).place == "P014"
    assert app.session_state["keys-cards"][0].startswith(b"%PDF")
    app = press(app, "I have them")
    assert "keys-cards" not in app.session_state
    assert "Every place and every rover has a key." in said(app)


def test_a_lost_card_is_harmless_once_a_new_one_is_made(feed: Feed) -> None:
    (lost,) = upkeep.issue_keys(feed.office, [Sender.at_place("P014")])
    app = part("Keys and cards")
    app.selectbox(key="keys-whose").set_value("place:P014")
    press(app, "End the old key, and make a new card")
    assert upkeep.live_keys(feed.office)["place:P014"] == 1
    with pytest.raises(UnknownKey):
        desk.find_sender(feed.office, lost)


def test_people_are_added_with_a_first_password_shown_once(feed: Feed) -> None:
    app = part("People")
    app.text_input(key="people-name").set_value("Bo Fenn")
    app.radio(key="people-role").set_value(Role.DESK)
    app = press(app, "Add")
    (password,) = [each.value for each in app.code]
    assert check_password(feed.office, "Bo Fenn", password).must_change
    app = press(app, "I have written it down")
    assert not app.code
    assert "never</td>" in said(app).replace('<span class="pr-quiet">, first password not changed yet</span>', "")


def test_an_account_is_reset_given_another_role_and_ended(feed: Feed) -> None:
    staffing.add_person(feed.office, Person("Bo Fenn", Role.DESK))
    app = part("People")
    app.selectbox(key="people-whose").set_value("Bo Fenn")
    app = press(app, "New first password")
    (password,) = [each.value for each in app.code]
    assert check_password(feed.office, "Bo Fenn", password).name == "Bo Fenn"
    app.selectbox(key="people-to").set_value(Role.VIEWER)
    assert "Bo Fenn is viewer from now on." in said(press(app, "Give this role"))
    assert "The account of Bo Fenn has ended." in said(press(app, "End the account"))
    app.selectbox(key="people-whose").set_value("Ann Lee")
    assert "is the only lead" in said(press(app, "End the account"))


def test_whoever_lost_the_role_meanwhile_changes_nothing(feed: Feed) -> None:
    staffing.add_person(feed.office, Person("Bo Fenn", Role.LEAD))
    app = part("Plan")
    staffing.change_role(feed.office, "Ann Lee", Role.DESK)
    app.text_area(key="plan-text").set_value(PLAN_TEXT.replace("-15m", "-16m"))
    next(button for button in app.button if button.key == "plan-save").click().run()
    assert plans.standing(feed.office).versions == ()


def test_without_a_roster_nothing_is_issued_or_rehearsed(tmp_path: Path) -> None:
    (tmp_path / "plan.toml").write_text(PLAN_TEXT, encoding="utf-8")
    with a_feed(tmp_path, now=at("05:30"), plan=the_plan(), roster=Roster()):
        assert "The roster has no places yet" in said(part("Keys and cards"))
        assert "The roster has no places yet" in said(part("Rehearsal"))
        assert "No place is in the roster" in said(part("Roster"))
    assert settings_from({"POLLRISE_DATA": str(tmp_path)}).plan.exists()
