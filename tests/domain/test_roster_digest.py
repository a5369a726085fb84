"""A roster's fingerprint: the same for the same rows, and unmoved by a column that was added since and is empty."""

from dataclasses import replace

from county.domain.roster_digest import read_written_roster, roster_digest, written_roster
from tests.builders import a_roster

ROSTER = a_roster()
WITH_OFFICERS = replace(ROSTER, places=(replace(ROSTER.places[0], officers=6), *ROSTER.places[1:]))


def test_the_order_of_the_rows_does_not_matter_and_any_value_does() -> None:
    assert roster_digest(replace(ROSTER, places=ROSTER.places[::-1])) == roster_digest(ROSTER)
    assert roster_digest(WITH_OFFICERS) != roster_digest(ROSTER)


def test_a_column_added_since_is_not_written_where_it_is_empty() -> None:
    assert "officers" not in written_roster(ROSTER)
    assert written_roster(WITH_OFFICERS).count("officers") == 1


def test_what_is_written_reads_back() -> None:
    for roster in (ROSTER, WITH_OFFICERS):
        assert roster_digest(read_written_roster(written_roster(roster))) == roster_digest(roster)
    assert read_written_roster(written_roster(WITH_OFFICERS)).place_by_id["P014"].officers == 6
