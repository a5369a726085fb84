"""Hours as lists write them, "7:00 am - 8:00 pm", "* Noon - 8", "0600-1900 MT", 0.25: read, or left to a person."""

import re
from dataclasses import dataclass
from datetime import date, datetime, time
from zoneinfo import ZoneInfo

ZONES = {
    "e": "America/New_York",
    "c": "America/Chicago",
    "m": "America/Denver",
    "p": "America/Los_Angeles",
    "ak": "America/Anchorage",
    "h": "Pacific/Honolulu",
    "a": "America/Puerto_Rico",
}
"""What people write for a time zone, by its first letters; they mean the zone's own time, summer or winter."""

_ZONE_WORDS = {"eastern": "e", "central": "c", "mountain": "m", "pacific": "p", "alaska": "ak", "hawaii": "h"}
_ZONE = re.compile(
    r"\b(?:(?P<short>ak|[ecmpha])(?:[sd])?t"
    r"|(?P<long>eastern|central|mountain|pacific|alaska|hawaii)(?: standard| daylight)?(?: time)?)\b\.?"
)
_MARKS = re.compile(r"[*†‡§]+")
_ASIDE = re.compile(
    r"\b(?:election day|polls?|open(?:s|ing)?|close[sd]?|closing|hours?|hrs?|from|tues?(?:day)?|at)\b[:.]?"
)
_TO = re.compile(r"\s*(?:-+|/|\bto\b|\buntil\b|\btill?\b|\bthr(?:u|ough)\b)\s*")
_NOON = re.compile(r"(?:12(?:[:.]?00)?\s*)?(?:noon|midday|n)\.?")
_DATE = re.compile(
    r"\b(?:jan|feb|mar|apr|may|june?|july?|aug|sept?|oct|nov|dec)[a-z]*\.?\s+\d{1,2}(?:st|nd|rd|th)?\b(?:,?\s*\d{4})?[:,]?"
    r"|\b\d{1,2}/\d{1,2}/\d{2,4}\b[:,]?"
)
_DAY = re.compile(r"\b\d{4}-\d\d-\d\d[t ](?=\d)")
_CLOCK = re.compile(r"(?P<hour>\d{1,2})(?:[:.h](?P<minute>\d{2}))?(?::\d{2})?\s*(?:(?P<half>[ap])\.?\s*(?:m\.?)?)?")
_FOUR = re.compile(r"(?P<hour>\d{1,2})(?P<minute>\d{2})\s*(?:(?P<half>[ap])\.?\s*(?:m\.?)?)?")
_FRACTION = re.compile(r"0?\.\d+|[01](?:\.0+)?")
_EARLIEST_UNSAID = 4 * 60
"""No polls open at 1 or 2 at night; where the half of the day is not said, this may not be guessed."""


@dataclass(frozen=True, slots=True)
class Hours:
    """When a place opens and closes, wall time; None where nothing is said. `doubt` says what had to be assumed.

    Midnight at closing is the day's end and stands as 00:00. `zone` is an IANA name where the text names a zone.
    """

    opens: time | None = None
    closes: time | None = None
    zone: str = ""
    doubt: str = ""


@dataclass(frozen=True, slots=True)
class _Said:
    """One time as written: minutes since midnight, and whether it says itself which half of the day it means."""

    minutes: int
    sure: bool


def read_hours(cell: str) -> Hours:
    """Both times from one cell. ValueError where it does not say them, or says more than one span."""
    text, zone, marked = _plain(cell)
    if not text:
        return Hours()
    parts = [part for part in _TO.split(text) if part.strip()]
    if len(parts) != 2:
        raise ValueError(f"'{cell.strip()}' says no opening and closing time")
    return _span(parts[0], parts[1], cell, zone, marked)


def read_opening_and_closing(opening: str, closing: str) -> Hours:
    """Both times from two cells; either may be empty. ValueError where one says no time."""
    (first, zone, marked), (last, other, too) = _plain(opening), _plain(closing)
    if first and last:
        return _span(first, last, f"{opening.strip()} - {closing.strip()}", zone or other, marked or too)
    opens = _opening(_said(first, opening)) if first else None
    closes = _closing(_said(last, closing)) if last else None
    says = f"'{(opening or closing).strip()}' is taken for {_shown(opens if first else closes)}"
    sure = (not first or _said(first, opening).sure) and (not last or _said(last, closing).sure)
    return Hours(_time(opens), _time(closes), zone or other, "" if sure and not (marked or too) else says)


def zone_meant(zone: str, county_zone: str, day: date) -> str:
    """The time zone a place has of its own: none where the clock there shows the county's time on the day."""
    noon = datetime.combine(day, time(12))
    if (
        not zone
        or noon.replace(tzinfo=ZoneInfo(zone)).utcoffset() == noon.replace(tzinfo=ZoneInfo(county_zone)).utcoffset()
    ):
        return ""
    return zone


def _plain(cell: str) -> tuple[str, str, bool]:
    """The text without what says nothing about times; the zone it names; and whether it is marked for a footnote."""
    text = " ".join(cell.translate(_DASHES).casefold().split())
    marked = bool(_MARKS.search(text))
    text = _DATE.sub(" ", _DAY.sub("", _MARKS.sub(" ", text)))
    named = _ZONE.search(text)
    zone = ZONES[named["short"] or _ZONE_WORDS[named["long"]]] if named else ""
    text = _ZONE.sub(" ", text).replace("(", " ").replace(")", " ")
    return " ".join(_ASIDE.sub(" ", text).split()).strip(" ,;."), zone, marked


_DASHES = {ord(dash): "-" for dash in "‐‑‒–—―−~"} | {0xA0: " ", 0x202F: " ", 0x2009: " "}


def _span(first: str, last: str, cell: str, zone: str, marked: bool) -> Hours:
    begin, end = _said(first, cell), _said(last, cell)
    # 06:00-19:00 says by itself that it counts to 24
    sure = (begin.sure and end.sure) or (end.minutes >= 13 * 60 and not _half(first) and not _half(last))
    opens, closes = _opening(begin), _closing(end)
    if not begin.sure and opens < _EARLIEST_UNSAID:
        raise ValueError(f"'{cell.strip()}' does not say whether the morning or the afternoon is meant")
    if closes <= opens:
        raise ValueError(f"'{cell.strip()}' closes before it opens")
    read = f"'{cell.strip()}' is taken for {_shown(opens)} to {_shown(closes)}"
    doubt = read if not sure else f"{read}, but is marked for a note" if marked else ""
    return Hours(_time(opens), _time(closes), zone, doubt)


def _half(text: str) -> bool:
    found = _CLOCK.fullmatch(text.strip()) or _FOUR.fullmatch(text.strip())
    return bool(found and found["half"])


def _said(text: str, cell: str) -> _Said:
    text = text.strip(" ,;.")
    if _NOON.fullmatch(text) or text.endswith("midnight"):
        return _Said(720 if _NOON.fullmatch(text) else 1440, sure=True)
    if _FRACTION.fullmatch(text) and "." in text:
        return _Said(round(float(text) * 1440), sure=True)
    found = _CLOCK.fullmatch(text) or _FOUR.fullmatch(text)
    if not found:
        raise ValueError(f"'{cell.strip()}' says no time of day")
    hour, minute, half = int(found["hour"]), int(found["minute"] or 0), found["half"]
    if minute > 59 or hour * 60 + minute > 1440 or (half and not 1 <= hour <= 12):
        raise ValueError(f"'{cell.strip()}' says no time of day")
    if half:
        hour = hour % 12 + (12 if half == "p" else 0)
    written_to_24 = hour >= 13 or hour == 0 or (len(found["hour"]) == 2 and text.startswith("0"))
    return _Said(hour * 60 + minute, sure=bool(half) or written_to_24)


def _opening(said: _Said) -> int:
    """Polls open in the morning or at noon, so an hour without its half of the day is that one."""
    return 0 if said.minutes == 1440 else said.minutes


def _closing(said: _Said) -> int:
    """Polls close in the afternoon or the evening."""
    if said.minutes == 0:
        return 1440
    return said.minutes + 720 if not said.sure and said.minutes < 720 else said.minutes


def _time(minutes: int | None) -> time | None:
    return None if minutes is None else time(minutes // 60 % 24, minutes % 60)


def _shown(minutes: int | None) -> str:
    return "" if minutes is None else f"{minutes // 60:02}:{minutes % 60:02}"
