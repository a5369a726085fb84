"""The rule for ballot accounting at the close."""

from collections.abc import Iterator

from county.domain.ballot_accounts import accounts
from county.domain.findings import Finding
from county.domain.rules.scene import Scene


def ballots_do_not_balance(scene: Scene) -> Iterator[Finding]:
    """Ballots scanned differ from delivered less left less not scanned, where all three were told.

    Compared at `balanced`, and again when results are printed after it; once they agree the difference is cleared.
    """
    compared = [each for each in accounts(scene.day.steps, scene.expected) if each.difference is not None]
    for number, account in enumerate(compared):
        entry, scanned, by_paper = account.entry, account.scanned, account.by_paper
        if not account.difference or scanned is None or by_paper is None:
            continue
        later = (each for each in compared[number:] if each.entry.happened_at > entry.happened_at)
        yield scene.finding(
            "out-of-balance",
            entry,
            f"{scanned:,} ballots scanned, {by_paper:,} by the count of paper: {account.difference:+,}",
            device="",
            cause=f"{entry.key}:paper",
            expected=f"{by_paper:,}",
            found=f"{scanned:,}",
            clears_at=next((each.entry.happened_at for each in later if not each.difference), None),
            clears_says="the ballots were found to balance",
        )
