"""The page of review in Streamlit's test harness: what each part says, also of nothing, and pages as at a time."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from html import unescape
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest
from streamlit.testing.v1.element_tree import Element

from county import desk
from county.domain.both_orders import View
from county.domain.entries import Entry
from county.domain.moments import write_moment
from county.domain.picture import Picture, happened, known
from county.following import Following
from county.upkeep import load_roster
from dashboard import then
from dashboard.feed import Feed
from dashboard.review import differences
from dashboard.review.moment import Moment
from dashboard.review.parts import PARTS
from dashboard.then import Then
from tests.builders import (
    a_correction,
    a_full_opening,
    a_note,
    a_roster,
    a_step,
    after,
    an_action,
    an_exception,
    an_interruption,
    before,
    raised,
    the_end,
)
from tests.dashboard.a_board import a_feed, at

DASHBOARD = Path(__file__).parents[2] / "dashboard"
OPENED = a_step("open", after(34), key="opened", received_at=after(52), note="keys came late")
ENTRIES: tuple[Entry, ...] = (
    a_step("staffed", before(44)),
    an_exception("no-power", before(20), effect="stopped", received_at=before(18)),
    raised("late-opening", "open", after(0), effect="stopped"),
    an_action("P014.late-opening", "acknowledge", after(6)),
    an_action("P014.late-opening", "assign", after(8), rover="R03"),
    an_action("P014.no-power", "clear", after(30), note="power is back"),
    OPENED,
    a_correction(OPENED, after(36), told=True, received_at=after(90), reason="read from the poster"),
    *a_full_opening("P015"),
    an_interruption("impaired", after(100), place="P015", exception="pollbook-outage"),
    the_end(after(120), place="P015", exception="pollbook-outage"),
    an_exception("expected-late", before(30), place="P016"),
    a_note(after(40), place="P016"),
)


@pytest.fixture
def feed(tmp_path: Path) -> Iterator[Feed]:
    """P014 opened late and was learned of later still; the day goes on."""
    with a_feed(tmp_path, ENTRIES, now=after(180)) as feed:
        yield feed


def a_page(name: str = "review", **chosen: str) -> AppTest:
    app = AppTest.from_file(str(DASHBOARD / "board.py"), default_timeout=30)
    for key, value in chosen.items():
        app.query_params[key] = value
    app.run()
    if name != "county":
        app.switch_page(str(DASHBOARD / "pages_" / f"{name}.py")).run()
    assert not app.exception
    return app


def html(app: AppTest) -> list[str]:
    return [str(each.value) for each in app.get("html") if isinstance(each, Element)]


def said(app: AppTest) -> str:
    """Everything a page says, without markup."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", "\n".join(html(app)))).split())


def every_entry(feed: Feed) -> Sequence[Entry]:
    """The ledger, read anew."""
    following = Following(feed.office)
    following.catch_up()
    return following.entries


def sentence(app: AppTest) -> str:
    found = next(each for each in html(app) if "pr-sentence" in each)
    return " ".join(re.sub(r"<[^>]+>", "", found).split())


def test_the_day_opens_where_the_office_knew_least_of_what_was_open(feed: Feed) -> None:
    app = a_page()
    assert sentence(app) == "At 06:40 the office knew 1 of 3 places to be open; 2 were. The two differ at 1 place."


@pytest.mark.parametrize(
    ("minutes", "says"),
    [
        (-60, "At 05:00 none of 3 places was open. What it knew of each was so."),
        (55, "At 06:55, 2 of 3 places were open, and the office knew of as many. The two differ at 1 place."),
        (95, "At 07:35, 2 of 3 places were open, and the office knew of as many. What it knew of each was so."),
    ],
)
def test_the_day_can_be_opened_at_a_moment(feed: Feed, minutes: int, says: str) -> None:
    assert sentence(a_page(at=write_moment(after(minutes)))) == says


def test_where_the_two_differ_it_says_by_how_much_and_who_had_acted(feed: Feed) -> None:
    moment = Moment(after(40), feed.replaying.everywhere(after(40)))
    assert feed.latest is not None
    (row,) = differences.rows(moment, feed.latest, feed.replaying.replay())
    assert (row.id, row.state) == ("P014", "learned 18 min later")
    assert row.says.startswith("Known: late. It was: open since 06:36. 06:34: open, keys came late;")
    assert row.says.endswith("Last done: cleared: no power, power is back, 06:30 by Front desk.")


def test_one_places_record_answers_the_five_questions(feed: Feed) -> None:
    app = a_page(part="place", place="P014")
    assert sentence(app) == "Mill Creek School opened at 06:36, 36 minutes late. The office knew it at 06:52."
    text = said(app)
    assert "06:36:00, 36 min after its own opening time 06:00. first told as 06:34 , put right by P014 at 07:30" in text
    assert "The sender's own: the time is as told. Told by the place, endpoint." in text
    assert "06:00:00 it was so: not open at its opening time" in text
    assert "06:00:10 the office learned it by its own clock: not open at its opening time" in text
    assert "06:52:00 the office learned from the place, endpoint that it was open" in text
    assert "Not open at its opening time : 06:06 acknowledged by Front desk; 06:08 assigned Rover Three" in text
    assert "No power : 06:30 cleared by Front desk, power is back" in text
    assert "Not open at its opening time: acknowledged after 6 min, assigned after 8 min, cleared after 36 min." in text


def test_what_was_put_right_is_struck_beside_what_stands(feed: Feed) -> None:
    record = next(each for each in html(a_page(part="place", place="P014")) if "pr-record" in each)
    struck = re.search(r"<s>(.*?)</s>(.*?)</td>", record, re.DOTALL)
    assert struck is not None
    assert "keys came late" in struck[1]
    assert "Now: 06:36:00" in struck[2]
    assert "It speaks of entry" in record
    assert record.count("<tr>") == 1 + len([entry for entry in ENTRIES if entry.place == "P014"])


def test_late_openings_say_minutes_whose_doing_and_what_was_the_matter(feed: Feed) -> None:
    app = a_page(part="late")
    assert sentence(app) == "1 place opened late, the latest by 36 minutes. 1 place is not reported open."
    assert "Mill Creek School, P014 06:00 06:36:00 36 06:52 16 min later Front desk" in said(app)
    assert "no power, the place wrote: keys came late" in said(app)


def test_response_times_say_what_is_open_withdrawn_and_missing(feed: Feed) -> None:
    text = said(a_page(part="response"))
    assert "still wait" in text
    assert "The county's plan sets no target for this." in text


@pytest.mark.parametrize(
    ("part", "says"),
    [
        ("lost", "1 place lost 36 minutes of voting in all; 1 of them lost more than 15 minutes"),
        ("silences", "longer than the plan allows."),
        ("kinds", "still open."),
        ("forecasts", "1 forecast of a late opening: 1 came true, 0 did not. 1 late opening had no forecast."),
        ("rovers", "1 rover of 2 had 1 case between them."),
        ("earlier", "No earlier election is at hand."),
    ],
)
def test_every_other_part_begins_with_its_sentence(feed: Feed, part: str, says: str) -> None:
    assert says in sentence(a_page(part=part))


@pytest.mark.parametrize("part", PARTS)
def test_a_day_of_which_nothing_is_known_is_told_too(tmp_path: Path, part: str) -> None:
    with a_feed(tmp_path, now=before(90)):
        assert sentence(a_page(part=part))


def test_forecasts_are_scored_explained_and_listed_with_what_nobody_foresaw(feed: Feed) -> None:
    app = a_page(part="forecasts")
    text = said(app)
    assert "How good they were" in text
    assert "0 is never wrong" in text
    assert re.search(r"30 min \d", text)
    told = next(each for each in html(app) if 'aria-label="Forecasts"' in each)
    assert "Court House, P016" in told
    unforeseen = next(each for each in html(app) if 'aria-label="Late openings that nobody foresaw"' in each)
    assert "Mill Creek School, P014" in unforeseen
    lead = next(control for control in app.button_group if control.label == "Said before opening")
    assert list(lead.options) == ["60 min", "45 min", "30 min", "15 min"]


def test_scores_are_kept_until_an_opening_bears_on_them(feed: Feed) -> None:
    first = feed.scored.scores(feed.picture, after(180))
    assert feed.scored.scores(feed.picture, after(190)) is first
    assert [score.lead_minutes for score in first] == [60, 45, 30, 15]


def test_an_earlier_election_at_hand_stands_beside_this_one(feed: Feed) -> None:
    rows = "".join(
        f"2024 General Election,{p},open,2024-11-05T06:00:00-06:00,{m}\n" for p, m in (("P014", 2), ("P015", 5))
    )
    (feed.office.settings.data / "earlier_steps.csv").write_text(f"election,place,step,done_at,minutes\n{rows}")
    says = sentence(a_page(part="earlier"))
    assert says.startswith("Half the places were open at their own opening time, nine tenths 36 min after;")
    assert says.endswith("at the 2024 General Election half 2 min after, nine tenths 5 min after.")


def test_an_earlier_file_that_cannot_be_read_is_said_and_nothing_breaks(feed: Feed) -> None:
    (feed.office.settings.data / "earlier_steps.csv").write_text("nothing\n")
    assert "could not be read" in said(a_page(part="earlier"))


@pytest.mark.parametrize("view", View)
def test_a_page_as_at_a_time_shows_exactly_what_the_fold_of_that_time_comes_to(feed: Feed, view: View) -> None:
    board = then.board_of(Then(after(40), view), feed.latest) if feed.latest else None
    assert board is not None
    chosen = (known if view is View.KNOWN else happened)(every_entry(feed), after(40))
    picture = Picture.of(feed.picture.roster, feed.picture.plan, chosen, heard_by_happening=view is View.HAPPENED)
    assert board.places == picture.everywhere(after(40))
    assert board.every_case == picture.cases()


def test_pages_as_at_a_time_say_that_this_is_not_now_and_offer_nothing(feed: Feed) -> None:
    app = a_page("exceptions", at="2026-11-03T06:10:00-06:00", view="known", case="P014.late-opening")
    assert "This is not now. It is 06:10:00, as the office knew it then. Nothing can be done here." in said(app)
    assert not app.button


def test_the_county_as_it_happened_shows_what_the_office_did_not_know_yet(feed: Feed) -> None:
    knew, was = (sentence(a_page("county", at="2026-11-03T12:40:00Z", view=view)) for view in ("known", "happened"))
    assert knew.startswith("1 of 3 open.")
    assert was.startswith("2 of 3 open.")


def test_a_time_that_cannot_be_read_is_said_and_now_is_shown(feed: Feed) -> None:
    text = said(a_page("county", at="yesterday"))
    assert "The time in the address cannot be read, so this is now." in text
    assert "This is not now" not in text


def test_a_time_still_to_come_is_now(feed: Feed) -> None:
    assert "It is 09:00:00" in said(a_page("county", at="2026-11-03T23:00:00Z"))


def test_a_page_of_now_says_that_it_shows_no_other_time(feed: Feed) -> None:
    assert "This page is of now, whatever time its address asks for." in said(a_page("call", at="2026-11-03T12:00:00Z"))


def test_as_known_is_by_the_roster_of_then_and_as_it_happened_by_todays(feed: Feed) -> None:
    before_it = after(100)
    at(feed, after(200))
    roster = a_roster(places=tuple(replace(p, name="New Name") if p.place == "P015" else p for p in a_roster().places))
    load_roster(feed.office, roster)
    at(feed, after(201))
    assert feed.latest is not None
    names = {view: then.board_of(Then(before_it, view), feed.latest).place_by_id["P015"].place.name for view in View}
    assert names == {View.KNOWN: "Grange Hall", View.HAPPENED: "New Name"}
    assert len(feed.replaying.everywhere(before_it)) == len(roster.places)
    assert feed.replaying.replay(before_it) is not feed.replaying.replay()


def test_what_was_learned_on_another_day_says_so_and_what_it_means(feed: Feed) -> None:
    desk.keep(feed.office, [a_note(after(30), note="Typed in from the sheet.", received_at=after(hours=22))])
    at(feed, after(hours=23))
    shown = said(a_page("review", part="place", place="P014"))
    assert "04:00:00 +1 d" in shown
    assert "a day after election day" in shown
