"""Times and durations as people and programs write them."""

import re
from datetime import UTC, datetime, time, timedelta
from functools import lru_cache
from zoneinfo import ZoneInfo

_RFC3339 = re.compile(r"(\d{4}-\d{2}-\d{2})[Tt ](\d{2}:\d{2}:\d{2})(\.\d{1,9})?([Zz]|[+-]\d{2}:\d{2})?", re.ASCII)
_DURATION = re.compile(r"\s*([+-]?)\s*(?=\d)(?:(\d{1,4})h)?\s*(?:(\d{1,5})m)?\s*(?:(\d{1,6})s)?\s*", re.ASCII)

_CLOCK = re.compile(r"\s*(\d{1,2}):(\d{2})(?::00)?\s*(?:([AaPp])\.?[Mm]\.?)?\s*", re.ASCII)


def parse_moment(text: str) -> datetime | None:
    """Read an RFC 3339 time to aware UTC; None where the offset is missing; ValueError where it is no time."""
    found = _RFC3339.fullmatch(text.strip())
    if not found:
        raise ValueError("not a time like 2026-11-03T05:41:00-06:00")
    day, clock, fraction, offset = found.groups()
    try:
        moment = datetime.fromisoformat(f"{day}T{clock}{(fraction or '')[:7]}{(offset or '').upper()}")
        return moment.astimezone(UTC) if offset else None
    except (ValueError, OverflowError):
        raise ValueError("no such time in the calendar") from None


def write_moment(moment: datetime) -> str:
    """Write an aware time as RFC 3339 in UTC, with microseconds only where there are any."""
    return moment.astimezone(UTC).isoformat().replace("+00:00", "Z")


def parse_duration(text: str) -> timedelta:
    """Read `90m`, `-15m`, `1h30m` or `45s`; ValueError where it is none."""
    found = _DURATION.fullmatch(text)
    if not found or not any(found.group(2, 3, 4)):
        raise ValueError(f"{text!r} is not a duration like 15m, 1h30m or -30m")
    sign, hours, minutes, seconds = found.groups()
    length = timedelta(hours=int(hours or 0), minutes=int(minutes or 0), seconds=int(seconds or 0))
    return -length if sign == "-" else length


def parse_clock(text: str) -> time:
    """Read a wall time, `06:00`, `19:00:00` or `7:00 pm`; `24:00` is midnight. ValueError where it is none."""
    found = _CLOCK.fullmatch(text)
    hour, minute, half = (int(found[1]), int(found[2]), (found[3] or "").lower()) if found else (99, 0, "")
    if half and 1 <= hour <= 12:
        hour = hour % 12 + (12 if half == "p" else 0)
    elif half:
        hour = 99
    if hour * 60 + minute > 24 * 60 or minute > 59:
        raise ValueError(f"{text!r} is not a time of day like 06:00 or 7:00 pm")
    return time(hour % 24, minute)


@lru_cache(maxsize=1024)
def is_zone(name: str) -> bool:
    """Whether this is a time zone of the IANA database."""
    try:
        return bool(ZoneInfo(name))
    except (LookupError, ValueError, OSError):
        return False


def whole_minutes(length: timedelta) -> int:
    """Whole minutes begun and ended in a length of time; never negative."""
    return max(0, int(length.total_seconds() // 60))
