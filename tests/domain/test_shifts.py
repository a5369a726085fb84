"""Who is on shift: from the minute a shift starts to the minute it ends, over midnight too, in the county's time."""

import pytest

from county.domain.shifts import next_start, on_shift
from tests.builders import after, clock
from tests.told import a_ladder, a_person

DAY = a_person("Ada Rill", "lead", starts="06:00", ends="13:00")
NIGHT = a_person("Bo Fenn", "lead", "custodian", starts="13:00", ends="02:00")
ALWAYS = a_person("Cy Moss", "director")
PLAN = a_ladder(people=[DAY, NIGHT, ALWAYS])


@pytest.mark.parametrize(
    ("at", "names"),
    [
        ("05:59", []),
        ("06:00", ["Ada Rill"]),
        ("12:59", ["Ada Rill"]),
        ("13:00", ["Bo Fenn"]),
        ("25:59", ["Bo Fenn"]),
        ("26:00", []),
    ],
)
def test_a_shift_begins_and_ends_on_the_minute(at: str, names: list[str]) -> None:
    assert [person.name for person in on_shift(PLAN, "lead", clock(at))] == names


def test_whoever_has_no_shift_is_there_at_any_time_and_a_name_is_a_role() -> None:
    assert on_shift(PLAN, "director", after(hours=-40)) == on_shift(PLAN, "Cy Moss", after(hours=40)) == (ALWAYS,)
    assert on_shift(PLAN, "counsel", after()) == ()


def test_the_next_shift_of_a_role_is_known() -> None:
    assert next_start(PLAN, ["lead"], clock("05:00")) == clock("06:00")
    assert next_start(PLAN, ["lead"], clock("06:00")) == next_start(PLAN, ["custodian"], after()) == clock("13:00")
    assert next_start(PLAN, ["lead"], clock("13:00")) is next_start(PLAN, ["director"], after()) is None
