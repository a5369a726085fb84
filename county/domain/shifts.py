"""Who is on shift for a role, and when that next changes."""

from collections.abc import Iterable
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from county.domain.plan import Contact, Plan


def with_role(plan: Plan, role: str) -> tuple[Contact, ...]:
    """Everybody who has this role, or this name, on shift or not."""
    return tuple(person for person in plan.people if role in (person.name, *person.roles))


def on_shift(plan: Plan, role: str, now: datetime) -> tuple[Contact, ...]:
    """Everybody with this role, or this name, whose shift it is at `now` (aware UTC)."""
    return tuple(person for person in with_role(plan, role) if _shift_has(person, plan, now))


def next_start(plan: Plan, roles: Iterable[str], now: datetime) -> datetime | None:
    """When the next shift of somebody with one of these roles starts; None where none does any more."""
    starts = (_shift(person, plan) for role in roles for person in with_role(plan, role))
    return min((shift[0] for shift in starts if shift and shift[0] > now), default=None)


def _shift_has(person: Contact, plan: Plan, now: datetime) -> bool:
    shift = _shift(person, plan)
    return shift is None or shift[0] <= now < shift[1]


def _shift(person: Contact, plan: Plan) -> tuple[datetime, datetime] | None:
    """The shift on election day, aware UTC; one that ends before it starts ends the day after. None: all the time."""
    if person.starts is None or person.ends is None:
        return None
    zone, day = ZoneInfo(plan.election.zone), plan.election.date
    ends_on = day if person.ends > person.starts else day + timedelta(days=1)
    starts, ends = (datetime.combine(d, c, zone) for d, c in ((day, person.starts), (ends_on, person.ends)))
    return starts.astimezone(UTC), ends.astimezone(UTC)
