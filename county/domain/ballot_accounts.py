"""A place's ballots at the close: what was scanned against the count of paper, as far as both were told."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from county.domain.balance import Balance, balance, expected_scanned
from county.domain.entries import Entry
from county.domain.expected import Expected

NOT_SCANNED = ("auxiliary", "provisional", "spoiled", "challenged")


@dataclass(frozen=True, slots=True)
class Account:
    """What was known after a report (`entry`), in ballots; None is what nobody told.

    `scanned` is the number told at `balanced`, or else the sum of the results printed, where every scanner has printed.
    `by_paper` is delivered less left less those not scanned; of these, one that was not told counts as none, and
    `not_scanned_told` says whether any was. `check_ins` is the last number told of the place.
    """

    entry: Entry
    delivered: int | None = None
    left: int | None = None
    not_scanned: int = 0
    scanned: int | None = None
    not_scanned_told: bool = False
    check_ins: int | None = None

    @property
    def by_paper(self) -> int | None:
        if self.delivered is None or self.left is None:
            return None
        return expected_scanned(self.delivered, self.left, self.not_scanned)

    @property
    def difference(self) -> int | None:
        """Scanned less the count of paper; None while either is not known."""
        return None if self.scanned is None or self.by_paper is None else self.scanned - self.by_paper

    @property
    def over_check_ins(self) -> int | None:
        """Scanned less check-ins, which must have a reason; None while either is not known."""
        return None if self.scanned is None or self.check_ins is None else self.scanned - self.check_ins

    @property
    def not_told(self) -> tuple[str, ...]:
        """What nobody told without which the ballots cannot be balanced, in words."""
        parts = {
            "ballots delivered": self.delivered,
            "ballots left": self.left,
            "every scanner’s count": self.scanned,
        }
        return tuple(name for name, value in parts.items() if value is None)


def accounts(steps: Iterable[Entry], expected: Expected) -> Iterator[Account]:
    """The account after each report of printed results or of the balance; `steps` are in the order they happened."""
    printed: dict[str, int] = {}
    told: int | None = None
    delivered, left, not_scanned, not_scanned_told = expected.place.ballots_delivered, None, 0, False
    check_ins: int | None = None
    for entry in steps:
        check_ins = check_ins if entry.device or entry.number("check_ins") is None else entry.number("check_ins")
        if entry.text("step") not in ("results-printed", "balanced"):
            continue
        count = entry.number("public_counter")
        if entry.text("step") == "results-printed":
            printed |= {} if count is None else {entry.device: count}
        elif not entry.device:
            told, left = count, entry.number("ballots_left")
            said = entry.number("ballots_delivered")
            delivered = expected.place.ballots_delivered if said is None else said
            not_scanned = sum(entry.number(name) or 0 for name in NOT_SCANNED)
            not_scanned_told = any(entry.number(name) is not None for name in NOT_SCANNED)
        every = bool(printed) and ("" in printed or printed.keys() >= set(expected.scanners))
        scanned = told if told is not None else printed.get("", sum(printed.values())) if every else None
        yield Account(entry, delivered, left, not_scanned, scanned, not_scanned_told, check_ins)


def last_account(steps: Iterable[Entry], expected: Expected) -> Account | None:
    """What is known now; None where neither results nor a balance were reported."""
    return next(reversed(tuple(accounts(steps, expected))), None)


def county_balance(last: Iterable[Account | None]) -> tuple[Balance, int]:
    """Net and absolute difference over the places where it is known, in ballots, and how many places they are."""
    differences = [each.difference for each in last if each and each.difference is not None]
    return balance(differences), len(differences)
