"""Which places need a look, in which order, and what is said of them."""

from dashboard.board_now import Board
from dashboard.looks import Group, looks, overdue, says
from tests.builders import a_full_opening, a_step, after, an_exception, an_interruption, before, clock, raised
from tests.dashboard.a_board import a_board, a_forecast


def said(board: Board) -> dict[str, str]:
    return {look.now.place.place: says(look, board) for look in looks(board)}


def test_worst_first() -> None:
    board = a_board(
        *a_full_opening("P015"), an_interruption("stopped", after(5), place="P015"), a_step("staffed"), now=after(70)
    )
    assert [(look.now.place.place, look.group) for look in looks(board)] == [
        ("P015", Group.STOPPED),
        ("P016", Group.UNHEARD),
        ("P014", Group.LATE),
    ]


def test_a_silent_place_is_the_alarm_only_once_something_is_due() -> None:
    assert {look.group for look in looks(a_board(now=before(60)))} == {Group.NOT_DUE}
    assert [look.group for look in looks(a_board(now=before(44)))].count(Group.UNHEARD) == 2


def test_what_is_said_of_a_place_that_is_late_with_a_step_missing() -> None:
    board = a_board(a_step("staffed", before(50)), now=after(14))
    assert said(board)["P014"] == "14 min late and site ready 44 min overdue, 4 more steps"


def test_what_is_said_of_a_place_nobody_heard_from() -> None:
    assert said(a_board(now=before(20)))["P014"] == "Nothing heard, first step was due 05:15"


def test_what_is_said_of_a_place_with_two_troubles() -> None:
    board = a_board(
        *a_full_opening(),
        an_exception("no-power", after(2)),
        an_exception("scanner-jam", after(1), device="SC-0141"),
        now=after(9),
    )
    assert said(board)["P014"] == "No power, 1 more case"


def test_what_comes_next_where_nothing_is_the_matter() -> None:
    entries = [entry for entry in a_full_opening() if entry.happened_at <= before(28)]
    assert said(a_board(*entries, now=before(27)))["P014"] == "Next: setup confirmed, due 05:40"


def test_a_report_of_other_trouble_is_called_by_its_own_short_words() -> None:
    short = a_board(*a_full_opening(), an_exception("other", after(2), note="Bees in the hall"), now=after(9))
    assert said(short)["P014"] == "Bees in the hall"
    long = a_board(*a_full_opening(), an_exception("other", after(2), note="Bees " * 20), now=after(9))
    assert said(long)["P014"] == "Other trouble"


def test_steps_are_overdue_after_their_grace_and_until_they_are_done() -> None:
    at = a_board(a_step("staffed", before(50)), now=clock("05:36")).place_by_id["P014"]
    board = a_board(a_step("staffed", before(50)), now=clock("05:36"))
    assert [step.key for step in overdue(at, board)] == ["site-ready"]


STAFFED = tuple(a_step("staffed", before(44), place=place) for place in ("P014", "P015", "P016"))
FORECASTS = (
    a_forecast("P014", "06:05", "06:14", "06:31", 0.74),
    a_forecast("P015", "06:10", "06:22", "06:40", 0.93),
    a_forecast("P016", "07:00", "07:00", "07:08", 0.4, opens="07:00"),
)


def test_places_expected_late_need_a_look_before_they_are_late_the_latest_first() -> None:
    board = a_board(*STAFFED, now=before(27), forecasts=FORECASTS)
    assert [(look.now.place.place, look.group, look.mark) for look in looks(board)] == [
        ("P015", Group.EXPECTED_LATE, "expected-late"),
        ("P014", Group.EXPECTED_LATE, "expected-late"),
        ("P016", Group.ON_COURSE, "preparing"),
    ]
    assert said(board)["P014"] == "Likely 06:14 (06:05 to 06:31)"


def test_when_it_may_be_late_is_said_and_where_it_is_on_course_is_not() -> None:
    perhaps, on_course = (a_forecast("P014", "06:00", "06:00", "06:08", chance) for chance in (0.4, 0.2))
    assert said(a_board(*STAFFED, now=before(31), forecasts=[perhaps]))["P014"] == "Likely 06:00 (06:00 to 06:08)"
    assert said(a_board(*STAFFED, now=before(31), forecasts=[on_course]))["P014"] == "Next: site ready, due 05:30"


def test_a_place_that_is_late_or_held_up_is_counted_as_that_and_its_likely_opening_is_said_too() -> None:
    held_up = a_board(*STAFFED, an_exception("no-power", before(30)), now=before(27), forecasts=FORECASTS)
    (look,) = [look for look in looks(held_up) if look.now.place.place == "P014"]
    assert (look.group, says(look, held_up)) == (Group.HELD_UP, "No power, likely 06:14 (06:05 to 06:31)")
    late = a_board(*STAFFED, now=after(4), forecasts=FORECASTS)
    (look,) = [look for look in looks(late) if look.now.place.place == "P014"]
    assert (look.group, says(look, late)) == (Group.LATE, "4 min late, likely 06:14 (06:05 to 06:31)")


def test_a_place_that_said_itself_that_it_will_be_late_is_expected_late_without_a_forecast() -> None:
    board = a_board(*STAFFED, an_exception("expected-late", before(30)), now=before(27))
    (look,) = [look for look in looks(board) if look.now.place.place == "P014"]
    assert (look.group, says(look, board)) == (Group.EXPECTED_LATE, "Expected to open late")


def test_what_was_not_heard_from_is_never_expected_late_but_unheard() -> None:
    assert {look.group for look in looks(a_board(now=before(20), forecasts=FORECASTS[:2]))} == {
        Group.UNHEARD,
        Group.NOT_DUE,
    }


def test_where_a_newer_forecast_says_on_course_an_older_one_no_longer_counts_but_the_places_own_word_does() -> None:
    was_forecast = raised("expected-late", "open", before(40))
    told = an_exception("expected-late", before(39))
    for entry, chance, group in (
        (was_forecast, 0.7, Group.EXPECTED_LATE),
        (was_forecast, 0.4, Group.EXPECTED_LATE),
        (was_forecast, 0.1, Group.ON_COURSE),
        (told, 0.1, Group.EXPECTED_LATE),
    ):
        ahead = a_forecast("P014", "06:00", "06:00", "06:04", chance)
        board = a_board(*STAFFED, entry, now=before(31), forecasts=[ahead])
        assert [look.group for look in looks(board) if look.now.place.place == "P014"] == [group]
    # as it happened nothing is forecast, and the case stands
    assert Group.EXPECTED_LATE in {look.group for look in looks(a_board(*STAFFED, was_forecast, now=before(31)))}
