"""Hours as lists write them: read where they say it, doubted where they half say it, never made up."""

from datetime import date, time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from county.roster_files.hours import read_hours, read_opening_and_closing, zone_meant


@pytest.mark.parametrize(
    ("said", "opens", "closes"),
    [
        ("7:00 am - 8:00 pm", "07:00", "20:00"),
        ("6 a.m. to 7 p.m.", "06:00", "19:00"),
        ("6a–7p", "06:00", "19:00"),
        ("6:30AM—7:30PM", "06:30", "19:30"),
        ("7:00 AM until 8:00 PM", "07:00", "20:00"),
        ("Polls open 6 am - 8 pm", "06:00", "20:00"),
        ("0700-2000", "07:00", "20:00"),
        ("0700 hrs - 1900 hrs", "07:00", "19:00"),
        ("7:00-20:00", "07:00", "20:00"),
        ("06:00 - 19:00", "06:00", "19:00"),
        ("07:00:00 - 20:00:00", "07:00", "20:00"),
        ("8.30 am - 5.30 pm", "08:30", "17:30"),
        ("6am/7pm", "06:00", "19:00"),
        ("Noon - 8:00 pm", "12:00", "20:00"),
        ("12 noon - 8 pm", "12:00", "20:00"),
        ("6:30am-midnight", "06:30", "00:00"),
        ("7:00 AM to 24:00", "07:00", "00:00"),
        ("0.25 - 0.75", "06:00", "18:00"),
        ("Tuesday 7 am - 8 pm", "07:00", "20:00"),
    ],
)
def test_hours_that_say_it(said: str, opens: str, closes: str) -> None:
    hours = read_hours(said)
    assert (f"{hours.opens:%H:%M}", f"{hours.closes:%H:%M}", hours.doubt) == (opens, closes, "")


@pytest.mark.parametrize(
    ("said", "opens", "closes"),
    [
        ("7-8", "07:00", "20:00"),
        ("7:00 - 8:00", "07:00", "20:00"),
        ("12-8", "12:00", "20:00"),
        ("7-8pm", "07:00", "20:00"),
        ("* Noon - 8:00 pm", "12:00", "20:00"),
        ("7 am - 8 pm †", "07:00", "20:00"),
    ],
)
def test_hours_that_half_say_it_are_read_and_doubted(said: str, opens: str, closes: str) -> None:
    hours = read_hours(said)
    assert (f"{hours.opens:%H:%M}", f"{hours.closes:%H:%M}") == (opens, closes)
    assert f"'{said}' is taken for {opens} to {closes}" in hours.doubt


@pytest.mark.parametrize(
    "said",
    [
        "Contact County", "TBD", "Varies", "see website", "7 am", "7pm-8am", "25:00-26:00", "7:75-8:00", "1-8",
        "7:00 am - 12:00 pm, 1:00 pm - 7:00 pm", "Mon-Fri 8-5", "8-8-8", "13 pm - 14 pm", "by appointment",
    ],
)  # fmt: skip
def test_hours_that_do_not_say_it_are_left_to_a_person(said: str) -> None:
    with pytest.raises(ValueError, match="'"):
        read_hours(said)


@pytest.mark.parametrize(
    ("opening", "closing", "opens", "closes", "doubted"),
    [
        ("7:00 AM", "8:00 PM", time(7), time(20), False),
        ("0.25", "0.791666666666667", time(6), time(19), False),
        ("1899-12-30 07:00:00", "1900-01-01 20:00:00", time(7), time(20), False),
        ("700", "2000", time(7), time(20), False),
        ("6:00", "24:00:00", time(6), time(0), False),
        ("7", "8", time(7), time(20), True),
        ("7:00", "8:00", time(7), time(20), True),
        ("", "8 pm", None, time(20), False),
        ("7", "", time(7), None, True),
        ("", "", None, None, False),
    ],
)
def test_hours_in_two_cells(opening: str, closing: str, opens: time | None, closes: time | None, doubted: bool) -> None:
    hours = read_opening_and_closing(opening, closing)
    assert (hours.opens, hours.closes, bool(hours.doubt)) == (opens, closes, doubted)


@pytest.mark.parametrize(
    ("said", "zone"),
    [
        ("9:00AM-7:00PM MT", "America/Denver"),
        ("9 am - 7 pm (Mountain Time)", "America/Denver"),
        ("9 am CST - 7 pm CST", "America/Chicago"),
        ("9 am - 7 pm Eastern", "America/New_York"),
        ("9 am - 7 pm", ""),
    ],
)
def test_the_zone_that_is_named(said: str, zone: str) -> None:
    hours = read_hours(said)
    assert (hours.opens, hours.closes, hours.zone) == (time(9), time(19), zone)


def test_a_zone_is_meant_only_where_its_clock_differs_on_the_day() -> None:
    winter, summer = date(2026, 11, 3), date(2026, 6, 2)
    assert zone_meant("America/Denver", "America/Chicago", winter) == "America/Denver"
    assert zone_meant("America/Denver", "America/Boise", winter) == ""
    assert zone_meant("America/Denver", "America/Phoenix", winter) == ""
    assert zone_meant("America/Denver", "America/Phoenix", summer) == "America/Denver"
    assert zone_meant("", "America/Chicago", winter) == ""


TIMES = st.times().map(lambda at: at.replace(second=0, microsecond=0))
FORMS = (
    lambda at: f"{at:%H:%M}",
    lambda at: f"{at:%I:%M %p}",
    lambda at: f"{at:%I:%M%p}".lower(),
    lambda at: f"{at.hour % 12 or 12}:{at:%M} {'a.m.' if at.hour < 12 else 'p.m.'}",
    lambda at: f"{at:%H:%M:%S}",
)


@given(opens=TIMES, closes=TIMES, form=st.sampled_from(FORMS), between=st.sampled_from([" - ", "-", "–", " to "]))
def test_any_hours_written_out_read_back_the_same(opens: time, closes: time, form: object, between: str) -> None:
    assert callable(form)
    said = f"{form(opens)}{between}{form(closes)}"
    if opens < closes and (closes.hour >= 13 or form not in (FORMS[0], FORMS[4])):
        assert (read_hours(said).opens, read_hours(said).closes) == (opens, closes)


@given(st.text(max_size=40))
def test_no_text_whatever_breaks_the_reading_of_hours(said: str) -> None:
    try:
        hours = read_hours(said)
    except ValueError:
        return
    assert (hours.opens is None) == (hours.closes is None)
