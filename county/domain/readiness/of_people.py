"""Who has a key, who has signed in, and when it was last rehearsed."""

from collections.abc import Iterator
from datetime import timedelta

from county.domain.people import Role
from county.domain.readiness.facts import Facts


def no_key(facts: Facts) -> Iterator[str]:
    return (f"{place.place} {place.name}" for place in facts.roster.places if place.place not in facts.keyed)


def cards_lead_here(facts: Facts) -> Iterator[str]:
    if facts.cards_lead_here:
        yield "POLLRISE_ADDRESS is not set"


def nobody_at_the_desk(facts: Facts) -> Iterator[str]:
    if len([each for each in facts.colleagues if each.role in (Role.DESK, Role.LEAD)]) < 2:
        yield "fewer than two people with the role desk or lead"


def never_signed_in(facts: Facts) -> Iterator[str]:
    return (f"{each.name}, {each.role}" for each in facts.colleagues if each.signed_in_at is None)


def never_rehearsed(facts: Facts) -> Iterator[str]:
    if facts.last_rehearsal is None:
        yield "no rehearsal was run to its end"


def rehearsed_before_a_change(facts: Facts) -> Iterator[str]:
    last = facts.last_rehearsal
    if last and facts.changed_at and facts.changed_at > last.at:
        yield f"roster or plan changed {_ago(facts.changed_at - last.at)} after it"


def rehearsed_with_few(facts: Facts) -> Iterator[str]:
    last = facts.last_rehearsal
    if last and last.places < len(facts.roster.places):
        yield f"{last.places:,} of {len(facts.roster.places):,} places"


def trained_in_this_ledger(facts: Facts) -> Iterator[str]:
    if facts.trained:
        yield f"{facts.trained:,} reports"


def made_up_in_this_ledger(facts: Facts) -> Iterator[str]:
    if facts.made_up:
        yield "sent by the rehearse command"


def _ago(length: timedelta) -> str:
    hours = int(length.total_seconds() // 3600)
    return f"{hours // 24} days" if hours >= 48 else f"{hours} hours" if hours > 1 else "shortly"
