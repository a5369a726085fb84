"""How times, lengths and counts are written."""

from datetime import timedelta
from zoneinfo import ZoneInfo

import pytest

from dashboard import words
from tests.builders import OPENS, after

CENTRAL = ZoneInfo("America/Chicago")


def test_a_time_is_the_countys_wall_time() -> None:
    assert words.clock(OPENS, CENTRAL) == "06:00"
    assert words.clock(after(0.2), CENTRAL, seconds=True) == "06:00:12"


@pytest.mark.parametrize(
    ("minutes", "says"), [(-3, "0 min"), (0, "0 min"), (9.9, "9 min"), (60, "1 h"), (81, "1 h 21 min")]
)
def test_a_length_is_short_and_never_negative(minutes: float, says: str) -> None:
    assert words.span(timedelta(minutes=minutes)) == says


def test_a_number_has_its_noun() -> None:
    assert [words.counted(n, "place") for n in (0, 1, 2, 2000)] == ["0 places", "1 place", "2 places", "2,000 places"]
    assert words.counted(2, "person in line", "people in line") == "2 people in line"


def test_parts_are_listed_and_empty_ones_left_out() -> None:
    assert words.listed(["3 late", "", "2 not heard from", "1 stopped"]) == "3 late, 2 not heard from and 1 stopped"
    assert words.listed(["one"]) == "one"
    assert words.listed([]) == ""
    assert words.commas(["3 late", "", "1 stopped"]) == "3 late, 1 stopped"


def test_a_sentence_begins_large_and_a_name_in_capitals_stays() -> None:
    assert words.begun("scanner jam") == "Scanner jam"
    assert words.unbegun("Scanner jam") == "scanner jam"
    assert words.unbegun("SC-0141 started at 3") == "SC-0141 started at 3"


def test_the_zone_is_called_as_people_call_it_and_otherwise_by_its_abbreviation() -> None:
    assert words.zone_word(CENTRAL, OPENS) == "Central"
    assert words.zone_word(ZoneInfo("Europe/Paris"), OPENS) == "CET"
