"""How long the records of an election are to be kept at least."""

from calendar import monthrange
from datetime import date

MONTHS = 22
"""Months after a federal election for which its records are kept. Source: 52 U.S.C. 20701."""


def keep_through(election: date, months: int = MONTHS) -> date:
    """The day so many months after an election, never fewer than 22; where that month has no such day, its last.

    Source: 52 U.S.C. 20701, twenty-two months from the date of the election. A state's schedule may ask for longer.
    """
    year, month = divmod(election.year * 12 + election.month - 1 + max(months, MONTHS), 12)
    return date(year, month + 1, min(election.day, monthrange(year, month + 1)[1]))
