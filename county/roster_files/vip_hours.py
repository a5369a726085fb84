"""When a place of a VIP feed is open on the day: wall time is the truth, and an offset that is wrong is said."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from county.domain.moments import is_zone, parse_clock
from county.roster_files.known import read_day

_TIME = re.compile(r"(\d{1,2}:\d{2}(?::\d{2})?)(?:\.\d+)?\s*(Z|[+-]\d{2}:?\d{2})?", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class DayHours:
    """Wall times on the day, None where the schedules say none for it; `zone` where one is named; and doubts."""

    opens: time | None = None
    closes: time | None = None
    zone: str = ""
    doubts: tuple[str, ...] = ()


def hours_on(schedules: Sequence[Mapping[str, str]], day: date, county_zone: str) -> DayHours:
    """The hours on this day. Midnight at closing is the day's end and stands as 00:00."""
    spans, doubts, zone = [], [], ""
    for schedule in schedules:
        if not _covers(schedule, day) or "starttime" not in schedule:
            continue
        named = schedule.get("timezone", "")
        zone = zone or (named if named and is_zone(named) else "")
        try:
            opens, closes = _wall(schedule["starttime"]), _wall(schedule.get("endtime", ""))
        except ValueError as error:
            doubts.append(str(error))
            continue
        spans.append((opens[0], closes[0]))
        doubts += _wrong_offsets((opens, closes), day, zone or county_zone)
    if not spans:
        return DayHours(zone=zone, doubts=tuple(dict.fromkeys(doubts)))
    opens_at = min(opens for opens, _ in spans)
    closes_at = max((closes for _, closes in spans), key=lambda closes: (closes == time(0), closes))
    if len(set(spans)) > 1:
        doubts.append(f"has several hours on {day}; {opens_at:%H:%M} to {closes_at:%H:%M} is taken")
    return DayHours(opens_at, closes_at, zone, tuple(dict.fromkeys(doubts)))


def _covers(schedule: Mapping[str, str], day: date) -> bool:
    first, last = read_day(schedule.get("startdate", "")), read_day(schedule.get("enddate", ""))
    return (first or day) <= day <= (last or day)


def _wall(said: str) -> tuple[time, timedelta | None]:
    found = _TIME.fullmatch(said.strip())
    if not found:
        raise ValueError(f"'{said}' is no time of day")
    offset = (found[2] or "").upper().replace(":", "")
    if not offset:
        return parse_clock(found[1]), None
    length = timedelta() if offset == "Z" else timedelta(hours=int(offset[1:3]), minutes=int(offset[3:5]))
    return parse_clock(found[1]), -length if offset.startswith("-") else length


def _wrong_offsets(times: Sequence[tuple[time, timedelta | None]], day: date, zone: str) -> list[str]:
    doubts = []
    for at, offset in times:
        right = datetime.combine(day, at, ZoneInfo(zone)).utcoffset()
        if offset is not None and offset != right:
            doubts.append(f"says {_shown(offset)}, but {zone} is at {_shown(right)} on {day}; the wall time is taken")
    return doubts


def _shown(offset: timedelta | None) -> str:
    minutes = round((offset or timedelta()).total_seconds() / 60)
    return f"{'-' if minutes < 0 else '+'}{abs(minutes) // 60:02}:{abs(minutes) % 60:02}"
