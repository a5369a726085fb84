"""Federal election day, and how long its records are kept."""

from calendar import monthrange
from datetime import date, timedelta

_TUESDAY = 1
_MONTHS_KEPT = 22


def federal_election_day(year: int) -> date:
    """The Tuesday after the first Monday in November of an even year; ValueError in an odd year.

    Source: 2 U.S.C. 7 (and 3 U.S.C. 1). Other elections do not follow it.
    """
    if year % 2:
        raise ValueError(f"{year} has no federal election day: it falls in even years")
    second = date(year, 11, 2)
    return second + timedelta(days=(_TUESDAY - second.weekday()) % 7)


def records_kept_until(election: date) -> date:
    """The day on which 22 months since the election are over; a state's own schedule may be longer.

    Source: 52 U.S.C. 20701. Where the month has no such day, its last.
    """
    months = election.year * 12 + election.month - 1 + _MONTHS_KEPT
    year, month = months // 12, months % 12 + 1
    return date(year, month, min(election.day, monthrange(year, month)[1]))
