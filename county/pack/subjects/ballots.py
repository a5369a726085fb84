"""The ballot balance of each place, with net and absolute differences over the county."""

from county.domain.balance import Balance
from county.domain.ballot_accounts import Account, county_balance, last_account
from county.domain.picture import PlaceNow
from county.pack.record import Record
from county.pack.saying import from_whom
from county.pack.table import Cell, Table, moment, number, table, text

COLUMNS = (
    text("place", wide=8),
    text("name", wide=28),
    number("delivered"),
    number("left"),
    number("not_scanned", "Not scanned"),
    number("by_paper", "Scanned, by the count of paper"),
    number("scanned", "Scanned, by the counters"),
    number("difference"),
    moment("told_at", "Known at the office"),
    text("told_by", "Told by", 16),
    text("note", "Reason written beside it", 40),
    text("missing", "What is missing", 40),
)


def ballots(record: Record) -> Table:
    """One row a place, in the roster's order; what was not told is empty and named."""
    over, known = over_the_county(record)
    says = (
        f"Scanned less the count of paper (delivered less left less not scanned). Net {over.net:+,}, absolute "
        f"{over.absolute:,} ballots over the {known:,} of {len(record.places):,} places where both are known: net lets "
        "differences cancel, absolute does not. Not scanned: auxiliary, provisional, spoiled and challenged; of these, "
        "what was not told counts as none."
    )
    return table("ballot_balance", "Ballot balance", says, COLUMNS, [_row(now) for now in record.places])


def over_the_county(record: Record) -> tuple[Balance, int]:
    """Net and absolute difference over the places where it is known, and how many they are."""
    return county_balance(_last(now) for now in record.places)


def _last(now: PlaceNow) -> Account | None:
    return last_account(now.day.steps, now.expected)


def _row(now: PlaceNow) -> list[Cell]:
    account, place = _last(now), now.place
    if account is None:
        nothing: list[Cell] = [place.ballots_delivered, *(None for _ in range(8))]
        return [place.place, place.name, *nothing, "no results and no balance reported"]
    missing = ", ".join(account.not_told)
    return [
        *(place.place, place.name, account.delivered, account.left, account.not_scanned),
        *(account.by_paper, account.scanned, account.difference, account.entry.received_at),
        *(from_whom(account.entry), account.entry.text("note") or None, missing or None),
    ]
