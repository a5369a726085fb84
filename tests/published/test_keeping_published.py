"""How long records are kept, against the law's own number."""

from datetime import date

import pytest

from county.domain.keeping import keep_through


@pytest.mark.parametrize(
    ("election", "through"),
    [
        (date(2026, 11, 3), date(2028, 9, 3)),  # 52 U.S.C. 20701: twenty-two months
        (date(2024, 11, 5), date(2026, 9, 5)),
        (date(2026, 4, 30), date(2028, 2, 29)),  # a month without that day ends on its last
    ],
)
def test_records_of_an_election_are_kept_for_twenty_two_months(election: date, through: date) -> None:
    assert keep_through(election) == through


def test_a_state_may_ask_for_longer_and_never_for_less() -> None:
    assert keep_through(date(2026, 11, 3), months=24) == date(2028, 11, 3)
    assert keep_through(date(2026, 11, 3), months=3) == date(2028, 9, 3)
