"""Numbers and times of day as a text line writes them: 0601, 6:01, 6am; 412, O for 0."""

import re
from datetime import datetime, time, timedelta
from zoneinfo import ZoneInfo

from county.domain.field_shapes import LARGEST

_NONE = ("o", "zero", "none", "nil", "null", "0.", "oo")
_TIME = re.compile(r"(\d{1,2})[:.h]?(\d{2})?(?:h|hrs)?([ap])?\.?m?\.?", re.ASCII | re.IGNORECASE)
_AHEAD, _HALF = timedelta(minutes=5), timedelta(hours=12)
_DAWN = 4


def read_number(word: str) -> int | None:
    """A whole number, or None; the letter O and words for nothing are 0."""
    if re.fullmatch(r"\d{1,9}", word, re.ASCII):
        return int(word) if int(word) <= LARGEST else None
    return 0 if word.casefold() in _NONE else None


def read_time(words: list[str], now: datetime, due: datetime, zone: ZoneInfo) -> tuple[datetime | None, int]:
    """The moment these words begin with (aware, in the zone), and how many of them it took; None, 0 where they do not.

    Of the moments the words may mean (this morning or this evening; before dawn also yesterday) it is the one nearest
    to `due` that is not still to come. ValueError where every one of them is.
    """
    found, took = _clock(words)
    if found is None:
        return None, 0
    clock, either_half = found
    today = now.astimezone(zone)
    back = (0, 1) if today.hour < _DAWN else (0,)
    days = [datetime.combine(today.date() - timedelta(days=days_back), clock, zone) for days_back in back]
    meant = [moment + half for moment in days for half in ((timedelta(0), _HALF) if either_half else (timedelta(0),))]
    possible = [moment for moment in meant if moment <= now + _AHEAD]
    if not possible:
        raise ValueError(f"{' '.join(words[:took])} is not a time of today that is past")
    return min(possible, key=lambda moment: abs(moment - due)), took


def _clock(words: list[str]) -> tuple[tuple[time, bool] | None, int]:
    """The time of day, whether it may be of either half of the day, and how many words it took."""
    for took in (2, 1):
        joined = "".join(words[:took]) if len(words) >= took else ""
        if took == 2 and not re.fullmatch(r"[ap]\.?m\.?", words[1] if len(words) > 1 else "", re.ASCII | re.IGNORECASE):
            continue
        found = _TIME.fullmatch(joined)
        if not found or (found[2] is None and found[3] is None and ":" not in joined):
            continue
        hour, minute, half = int(found[1]), int(found[2] or 0), (found[3] or "").lower()
        if half and not 1 <= hour <= 12:
            continue
        hour = hour % 12 + (12 if half == "p" else 0) if half else hour
        if hour > 23 or minute > 59:
            continue
        return (time(hour, minute), not half and hour <= 11 and not joined.startswith("0")), took
    return None, 0
