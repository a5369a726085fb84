"""Federal election day, and how long its records are kept, against the statutes."""

from datetime import date

import pytest

from county.domain.election_day import federal_election_day, records_kept_until

# 2 U.S.C. 7: the Tuesday next after the first Monday in November, in every even-numbered year.
DAYS = {2024: date(2024, 11, 5), 2026: date(2026, 11, 3), 2028: date(2028, 11, 7), 2030: date(2030, 11, 5)}


@pytest.mark.parametrize(("year", "day"), DAYS.items())
def test_the_tuesday_after_the_first_monday_in_november(year: int, day: date) -> None:
    assert federal_election_day(year) == day


@pytest.mark.parametrize("year", range(1846, 2200, 2))
def test_it_is_never_the_first_of_november_and_always_follows_a_monday_of_november(year: int) -> None:
    day = federal_election_day(year)
    assert (day.month, day.weekday()) == (11, 1)
    assert 2 <= day.day <= 8


@pytest.mark.parametrize("year", [2025, 2027])
def test_an_odd_year_has_none(year: int) -> None:
    with pytest.raises(ValueError, match="falls in even years"):
        federal_election_day(year)


# 52 U.S.C. 20701: records are kept for twenty-two months from the election.


@pytest.mark.parametrize(
    ("election", "until"),
    [
        (date(2026, 11, 3), date(2028, 9, 3)),
        (date(2024, 11, 5), date(2026, 9, 5)),
        (date(2026, 3, 3), date(2028, 1, 3)),
        # ten months less than two years may end in a month that is shorter
        (date(2026, 4, 30), date(2028, 2, 29)),
        (date(2027, 4, 30), date(2029, 2, 28)),
    ],
)
def test_records_are_kept_for_22_months(election: date, until: date) -> None:
    assert records_kept_until(election) == until
