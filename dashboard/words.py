"""How times, lengths, counts and standings are written on the board."""

from collections.abc import Iterable, Mapping
from datetime import datetime, timedelta
from types import MappingProxyType
from zoneinfo import ZoneInfo

from county.domain.cases import Case, State
from county.domain.effects import Effect
from county.domain.standing import Standing

CALL_911 = "Danger to anyone? Call 911 first. This board does not call 911."
STANDING: Mapping[Standing, str] = MappingProxyType(
    {
        Standing.UNHEARD: "not heard from",
        Standing.PREPARING: "preparing",
        Standing.READY: "ready to open",
        Standing.LATE: "late",
        Standing.OPEN: "open",
        Standing.IMPAIRED: "open, impaired",
        Standing.STOPPED: "voting stopped",
        Standing.CLOSED: "closed",
        Standing.RECEIVED: "received at the office",
    }
)
EFFECT: Mapping[Effect, str] = MappingProxyType(
    {
        Effect.DANGER: "people in danger",
        Effect.STOPPED: "voting stopped",
        Effect.IMPAIRED: "voting impaired",
        Effect.AT_RISK: "at risk",
        Effect.RECORD: "for the record",
    }
)
STATE: Mapping[State, str] = MappingProxyType(
    {
        State.RAISED: "nobody yet",
        State.ACKNOWLEDGED: "acknowledged",
        State.ASSIGNED: "assigned",
        State.UNDER_WAY: "under way",
        State.ON_SITE: "on site",
        State.CLEARED: "cleared",
        State.WITHDRAWN: "withdrawn",
    }
)
DID: Mapping[str, str] = MappingProxyType(
    {
        "acknowledge": "acknowledged",
        "assign": "assigned",
        "accept": "accepted",
        "cannot": "turned down",
        "under-way": "under way",
        "on-site": "on site",
        "clear": "cleared",
        "reopen": "reopened",
        "withdraw": "withdrawn",
        "note": "note",
        "effect": "effect changed",
    }
)
"""What a person did with a case."""
_DID_BY_ROVER: Mapping[str, str] = MappingProxyType(
    {
        "accept": "accepted by {}",
        "cannot": "turned down by {}",
        "under-way": "{} under way",
        "on-site": "{} on site",
    }
)
_ZONES: Mapping[str, str] = MappingProxyType(
    {
        "America/New_York": "Eastern",
        "America/Detroit": "Eastern",
        "America/Indiana/Indianapolis": "Eastern",
        "America/Chicago": "Central",
        "America/Denver": "Mountain",
        "America/Boise": "Mountain",
        "America/Phoenix": "Mountain",
        "America/Los_Angeles": "Pacific",
        "America/Anchorage": "Alaska",
        "Pacific/Honolulu": "Hawaii",
    }
)


def bearing(case: Case) -> str:
    """How a case bears on voting; a stop at one device is said to be that device's, not the place's.

    A pattern bears on nobody by itself: it is one step worse than its cases, so that somebody looks for the cause.
    """
    if case.is_pattern:
        return f"counts as {EFFECT[case.effect]}"
    return "device stopped" if case.device and case.effect is Effect.STOPPED else EFFECT[case.effect]


def did(action: str, rover: str = "") -> str:
    """What a person did with a case, with the rover it was about: assigned R. Sand, R. Sand on site."""
    said = DID.get(action, action)
    return _DID_BY_ROVER.get(action, f"{said} {{}}").format(rover) if rover else said


def clock(moment: datetime, zone: ZoneInfo, *, seconds: bool = False) -> str:
    """Wall time in the county's zone: 05:58, or 05:58:12."""
    return f"{moment.astimezone(zone):{'%H:%M:%S' if seconds else '%H:%M'}}"


def zone_word(zone: ZoneInfo, moment: datetime) -> str:
    """What people call the county's time: Central; the zone's own abbreviation where there is no such word."""
    return _ZONES.get(zone.key) or moment.astimezone(zone).tzname() or zone.key


def whole_minutes(length: timedelta) -> int:
    """Whole minutes gone by; never negative."""
    return max(0, int(length.total_seconds() // 60))


def span(length: timedelta) -> str:
    """A length of time in few letters: 9 min, 1 h 20 min, 2 h."""
    minutes = whole_minutes(length)
    hours, rest = divmod(minutes, 60)
    if not hours:
        return f"{minutes} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def counted(number: int, noun: str, plural: str = "") -> str:
    """A number with its noun: 1 place, 2,000 places."""
    return f"{number:,} {noun if number == 1 else plural or f'{noun}s'}"


def listed(parts: Iterable[str], last: str = "and") -> str:
    """Parts in a row: a, b and c."""
    said = [part for part in parts if part]
    return f" {last} ".join([", ".join(said[:-1]), said[-1]]) if len(said) > 1 else "".join(said)


def commas(parts: Iterable[str]) -> str:
    """Parts in a row without a last word: a, b, c."""
    return ", ".join(part for part in parts if part)


def begun(text: str) -> str:
    """The text with a capital at its beginning."""
    return text[:1].upper() + text[1:]


def sentence(text: str) -> str:
    """The text as a sentence of its own."""
    said = begun(text.strip())
    return said if said.endswith((".", "!", "?")) else f"{said}."


def unbegun(text: str) -> str:
    """The text as it stands within a sentence; what begins with two capitals keeps them."""
    return text if text[1:2].isupper() else text[:1].lower() + text[1:]


def step(key: str) -> str:
    """A step's short name, as its key says it: zero report."""
    return key.replace("-", " ")
