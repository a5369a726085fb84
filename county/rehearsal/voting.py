"""The hourly counts of a made-up day: people and pieces of paper, never a vote."""

from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta
from random import Random

from county.domain.expected import Expected
from county.rehearsal.sent import minutes
from county.rehearsal.sheet import Sheet

REGISTERED = 1_200
HOURS_OF_VOTING = 13
MOST_AN_HOUR_AND_SCANNER = 220
BUSY = (1.5, 1.25, 1.0, 0.85)


def counts(
    sheet: Sheet, expected: Expected, opened_at: datetime, until: datetime, long_line: bool, rng: Random
) -> None:
    """Write down the counts at the top of each hour from the opening to `until`: counters, check-ins, line, ballots."""
    scanners = expected.scanners or ("",)
    counters = {device: _start_count(sheet, device) for device in scanners}
    started = sum(counters.values())
    turnout = (expected.place.registered or REGISTERED) * rng.uniform(0.35, 0.6) / HOURS_OF_VOTING
    since = opened_at
    for number, hour in enumerate(_hours(opened_at, until)):
        busy = BUSY[min(number, len(BUSY) - 1)] * rng.uniform(0.85, 1.15) * (1.6 if long_line else 1.0)
        came = turnout * busy * (hour - since) / timedelta(hours=1)
        for device in scanners:
            counters[device] += round(min(came / len(scanners), MOST_AN_HOUR_AND_SCANNER))
        voted = sum(counters.values()) - started
        since = hour
        for device in scanners:
            first = device == scanners[0]
            about: dict[str, object] = {"device": device} if device else {}
            people = _people(expected, voted, long_line, rng) if first else {}
            sheet.tell(hour, {"kind": "count", **about, "public_counter": counters[device], **people}, "count")


def _people(expected: Expected, voted: int, long_line: bool, rng: Random) -> Mapping[str, object]:
    """What is counted once for the place; a few voters who checked in stand in the booths."""
    spoiled = round(voted * 0.01)
    people: dict[str, object] = {
        "check_ins": voted + rng.randint(0, 3),
        "in_line": rng.randint(60, 140) if long_line else min(25, round(rng.expovariate(0.2))),
        "spoiled": spoiled,
    }
    if expected.place.ballots_delivered is not None:
        people["ballots_left"] = max(0, expected.place.ballots_delivered - voted - spoiled)
    return people


def _hours(opened_at: datetime, until: datetime) -> Iterator[datetime]:
    """Full hours by the clock after the opening, the first at least half an hour after it."""
    hour = (opened_at + minutes(30)).replace(minute=0, second=0, microsecond=0) + timedelta(hours=1)
    while hour <= until:
        yield hour
        hour += timedelta(hours=1)


def _start_count(sheet: Sheet, device: str) -> int:
    """What the device's zero report showed, so that a count never seems to go backwards."""
    return next(
        (
            int(str(told.fields["public_counter"]))
            for told in sheet.told
            if told.fields.get("device", "") == device and "public_counter" in told.fields
        ),
        0,
    )
