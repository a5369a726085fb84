"""The county's own minutes from place to place: read from a CSV file, every fault with its row and column."""

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from county.domain.travel import Spot, Travel
from county.domain.ways import parse_ways
from county.errors import Refused

GOOD = "from,to,minutes\nR01,P014,12\nP014,P015,7.5\nP015,P014, 8 \n"


def faults(text: str) -> list[str]:
    with pytest.raises(Refused) as refused:
        parse_ways(text, "ways.csv")
    return [str(problem) for problem in refused.value.problems]


def test_each_row_is_one_way() -> None:
    assert parse_ways(GOOD, "ways.csv") == {("R01", "P014"): 12, ("P014", "P015"): 7.5, ("P015", "P014"): 8}


def test_columns_may_stand_in_any_order_with_others_beside() -> None:
    assert parse_ways("\ufeffminutes,road,to,from\n12,A 7,P014,R01\n", "ways.csv") == {("R01", "P014"): 12}


def test_a_way_that_stands_there_is_taken_and_another_goes_by_distance() -> None:
    travel = Travel(start_minutes=3, unknown_minutes=30, matrix=parse_ways(GOOD, "ways.csv"))
    assert travel.minutes(Spot("P014"), Spot("P015")) == 7.5
    assert travel.minutes(Spot("P014", 41.9, -99.7), Spot("R01", 41.9, -99.7)) == 3


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "ways.csv, row 1: column from is missing"),
        ("from,to\nA,B\n", "ways.csv, row 1: column minutes is missing"),
        ("from,to,minutes\n,B,3\n", "ways.csv, row 2, column from: is empty"),
        ("from,to,minutes\nA,B,3\nA\n", "ways.csv, row 3, column to: is empty"),
        ("from,to,minutes\nA,A,3\n", "ways.csv, row 2, column to: A is where it starts"),
        ("from,to,minutes\nA,B,3\nB,A,4\nA,B,5\n", "row 4, column to: the way from A to B stands above already"),
        ("from,to,minutes\nA,B,soon\n", 'column minutes: "soon" is not a number of minutes from 0 to 1440'),
        ("from,to,minutes\nA,B,-1\n", 'column minutes: "-1" is not'),
        ("from,to,minutes\nA,B,inf\n", 'column minutes: "inf" is not'),
        ("from,to,minutes\nA,B,nan\n", 'column minutes: "nan" is not'),
    ],
)
def test_a_fault_is_said_with_row_and_column(text: str, said: str) -> None:
    assert said in faults(text)[0]


def test_every_fault_is_said_and_of_very_many_the_first_twenty() -> None:
    rows = [f"A,B{n},soon" for n in range(50)]
    said = faults("\n".join(["from,to,minutes", *rows]))
    assert len(said) == 21
    assert said[-1] == "ways.csv: and 30 faults more"


@given(st.text())
def test_any_text_is_read_or_refused(text: str) -> None:
    with suppress(Refused):
        parse_ways(text, "ways.csv")
