"""Step times of an earlier election are read, or each bad row is named."""

from datetime import UTC, datetime

import pytest

from county.domain.earlier_steps import EarlierStep, minutes_by_step, parse_earlier_steps
from county.errors import Refused

HEADER = "election,place,step,done_at,minutes\n"
TWO = "2024,P001,open,2024-11-05T06:02:00-06:00,2\n2024,P002,open,2024-11-05T07:00:00-06:00,0\n"


def test_a_row_is_a_step_done_at_a_place() -> None:
    first, _ = parse_earlier_steps(HEADER + TWO, "earlier_steps.csv")
    assert first == EarlierStep("2024", "P001", "open", datetime(2024, 11, 5, 12, 2, tzinfo=UTC), 2)


def test_minutes_are_gathered_by_step_earliest_first() -> None:
    assert minutes_by_step(parse_earlier_steps("\ufeff" + HEADER + TWO, "x")) == {"open": (0, 2)}


@pytest.mark.parametrize(
    ("rows", "says"),
    [
        ("2024,P001,open,2024-11-05T06:02:00,2", "row 2: done_at 2024-11-05T06:02:00 has no offset"),
        ("2024,P001,open,soon,2", "row 2: not a time"),
        ("2024,P001,open,2024-11-05T06:02:00-06:00,two", "row 2: minutes two is not a whole number"),
        ("2024,P001,,2024-11-05T06:02:00-06:00,2", "row 2: place and step are needed"),
        ("2024,P001", "row 2: not a time"),
    ],
)
def test_a_bad_row_is_named(rows: str, says: str) -> None:
    with pytest.raises(Refused, match=f"earlier.csv, {says}"):
        parse_earlier_steps(HEADER + rows, "earlier.csv")


def test_a_missing_column_is_named() -> None:
    with pytest.raises(Refused, match=r"earlier.csv, row 1: column minutes is missing"):
        parse_earlier_steps("election,place,step,done_at\n", "earlier.csv")
