"""Ballot accounting: what was delivered, what is left, what was scanned; net and absolute differences."""

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Balance:
    """Differences over many rows: `net` lets them cancel, `absolute` does not; both are always shown."""

    net: int
    absolute: int


def expected_scanned(delivered: int, left: int, not_scanned: int) -> int:
    """Ballots that must have been scanned: used (delivered less left), less those not scanned.

    `not_scanned` is auxiliary + provisional + spoiled + challenged. Source: published precinct worksheets of Wake
    County NC, and 8 CCR 1505-1 Rule 10.
    """
    return delivered - left - not_scanned


def balance(differences: Iterable[int]) -> Balance:
    """Net and absolute sum of differences, in ballots."""
    each = tuple(differences)
    return Balance(net=sum(each), absolute=sum(abs(difference) for difference in each))
