"""Places as rows and as a frame."""

from dashboard.tables import folded, for_the_chart, place_names, places_frame, unheard
from tests.builders import a_full_opening, a_step, after, before
from tests.dashboard.a_board import a_board, a_forecast


def test_the_chart_has_what_needs_a_look_first_and_others_beside_it() -> None:
    board = a_board(*a_full_opening("P014"), a_step("staffed", before(50), place="P015"), now=after(5))
    assert [look.now.place.place for look in for_the_chart(board)] == ["P015", "P014", "P016"]
    assert [look.now.place.place for look in for_the_chart(board, 1)] == ["P015"]
    assert folded(board, 1) == "2 other places need none: no zone 2."


def test_more_than_can_be_drawn_is_said() -> None:
    assert folded(a_board(now=before(20)), 1) == "1 more place needs a look. 1 other place needs none: no zone 1."


def test_places_not_heard_from_with_their_telephone() -> None:
    rows = unheard(a_board(now=before(20)))
    assert [(row.title, row.beside, row.says) for row in rows] == [
        ("Mill Creek School", "no telephone on the roster", "first step was due 05:15, 25 min ago"),
        ("Grange Hall", "no telephone on the roster", "first step was due 05:15, 25 min ago"),
    ]


def test_the_table_says_in_words_what_the_map_shows() -> None:
    frame = places_frame(a_board(*a_full_opening("P014", after(4)), now=after(20)))
    row = frame[frame["Id"] == "P014"].iloc[0]
    assert (row["Standing"], row["Opened"], row["Minutes late"], row["Steps done"]) == ("open", "06:04", 4, 7)
    assert frame["Id"].iloc[0] == "P015"


def test_a_place_is_found_by_its_precincts_too() -> None:
    names = place_names(a_board())
    assert names["P014"] == "Mill Creek School, P014, Mill Creek North, Mill Creek South"
    assert names["P016"] == "Court House, P016"


def test_the_table_says_when_each_place_will_likely_open_and_how_sure_that_is() -> None:
    ahead = a_forecast("P014", "06:05", "06:14", "06:31", 0.74)
    frame = places_frame(a_board(a_step("staffed", before(44)), now=before(20), forecasts=[ahead]))
    rows = {row["Id"]: (row["Likely to open"], row["Chance that it is late"]) for _, row in frame.iterrows()}
    assert rows["P014"] == ("06:14 (06:05 to 06:31)", "7 in 10")
    assert rows["P015"] == ("", "")


def test_of_places_that_need_no_look_the_ones_most_likely_late_stand_in_the_chart() -> None:
    staffed = [a_step("staffed", before(44), place=place) for place in ("P014", "P015", "P016")]
    ahead = [
        a_forecast("P014", "06:00", "06:00", "06:01", 0.1),
        a_forecast("P015", "06:00", "06:00", "06:09", 0.3),
        a_forecast("P016", "07:00", "07:00", "07:00", 0.0, opens="07:00"),
    ]
    board = a_board(*staffed, now=before(27), forecasts=ahead)
    assert [look.now.place.place for look in for_the_chart(board)] == ["P015", "P014", "P016"]
