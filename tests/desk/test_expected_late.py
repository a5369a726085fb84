"""The clock raises an expected late opening once, however many clocks there are, and it can be reckoned again."""

from concurrent.futures import ThreadPoolExecutor
from datetime import datetime

from county import desk
from county.domain.both_orders import View
from county.domain.moments import write_moment
from county.domain.openings import forecast_openings
from county.domain.replay import Replay
from county.domain.step_paces import paces_of
from county.earlier_file import FILE, earlier_steps_at_hand
from county.following import Following
from county.forecasting import forecasts, paces
from county.wiring import Office
from tests.an_office import at, later
from tests.desk.reports import a_step

BEGUN_LATE = [a_step("staffed", "05:35", "P014"), a_step("staffed", "05:00", "P015")]


def by_clock(office: Office, minutes: float) -> None:
    """The clock's look so many minutes after 05:30."""
    following = Following(office)
    following.catch_up()
    moved = later(office, minutes)
    desk.raise_by_clock(moved, following.picture, moved.clock.now())


def expected(office: Office) -> list[dict[str, object]]:
    return [page for page in desk.ledger_pages(office) if page.get("exception") == "expected-late"]


def test_a_place_that_has_hardly_begun_is_raised_with_its_figures(office: Office) -> None:
    desk.keep(office, [BEGUN_LATE[0]])
    by_clock(office, 25)
    [entry] = expected(office)
    assert entry["key"] == "clock/expected-late/P014/open"
    assert (entry["effect"], entry["by"], entry["happened_at"]) == ("at-risk", "clock", write_moment(at("05:55")))
    assert 60 <= int(str(entry["chance_late"])) <= 99
    moments = [str(entry[f"{name}_open_at"]) for name in ("earliest", "likely", "latest")]
    assert moments == sorted(moments)
    assert str(entry["says"]).startswith("likely to open 06:")
    assert entry["step"] == "seals-checked"


def test_it_is_raised_once_by_one_clock_and_by_many(office: Office) -> None:
    desk.keep(office, [BEGUN_LATE[0]])
    following = Following(office)
    following.catch_up()
    with ThreadPoolExecutor(4) as clocks:
        list(clocks.map(lambda second: desk.raise_by_clock(office, following.picture, second), [at("05:55")] * 4))
    by_clock(office, 26)
    by_clock(office, 28)
    assert len(expected(office)) == 1
    assert desk.set_aside_list(office) == []


def test_a_place_on_course_and_one_not_heard_from_are_not_raised(office: Office) -> None:
    steps = ("staffed", "site-ready", "seals-checked", "powered", "setup-confirmed", "zero-report")
    desk.keep(office, [a_step(step, "05:40", "P015") for step in steps])
    by_clock(office, 20)
    assert expected(office) == []


def test_nothing_is_forecast_once_every_place_is_past_its_hour(office: Office) -> None:
    desk.keep(office, [BEGUN_LATE[0]])
    by_clock(office, 31)
    assert expected(office) == []


def test_the_forecast_reckoned_again_from_the_ledger_is_the_one_that_was_live(office: Office) -> None:
    desk.keep(office, BEGUN_LATE)
    following = Following(office)
    following.catch_up()
    now: datetime = at("05:52")
    live = forecasts(office, following.picture, now)
    assert live.keys() == {"P014", "P015"}
    by_clock(office, 22)
    desk.keep(office, [a_step("open", "06:20", "P014")])
    following.catch_up()
    replay = Replay(following.picture.roster, following.picture.plan, following.entries)
    states = [replay.state(place, now, View.KNOWN) for place in replay.places]
    again = forecast_openings(states, paces_of((), office.plan), office.plan, now)
    assert again == dict(live)


def test_asked_again_in_the_same_minute_it_is_the_same_answer(office: Office) -> None:
    desk.keep(office, BEGUN_LATE)
    following = Following(office)
    following.catch_up()
    first = forecasts(office, following.picture, at("05:52"))
    assert forecasts(office, following.picture, at("05:52")) is first
    assert forecasts(office, following.picture, at("05:53")) is not first


def test_the_earlier_election_in_the_data_folder_is_learned_from(office: Office) -> None:
    assert paces(office, office.plan).election == ""
    rows = [
        f"2024 General,P{n:03},{step},2024-11-05T05:{minute:02}:00-06:00,{minute - 60}\n"
        for n in range(20)
        for step, minute in (("staffed", n), ("seals-checked", n + 20), ("zero-report", n + 30))
    ]
    (office.settings.data / FILE).write_text("election,place,step,done_at,minutes\n" + "".join(rows))
    assert len(earlier_steps_at_hand(office.settings)) == 60
    assert paces(office, office.plan).election == "2024 General"
    assert paces(office, office.plan) is paces(office, office.plan)
