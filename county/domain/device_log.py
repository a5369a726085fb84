"""What a device wrote down of itself, as values: NIST SP 1500-101 logs and the documentation beside them."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo


@dataclass(frozen=True, slots=True)
class LogEvent:
    """One line of a device's log. `line` is its place in the file (from 1), `sequence` the number as written.

    `at` is aware UTC where the log gave an offset, else naive wall time as written (see `moment`). Who was signed in on
    the device is left in the original and not read.
    """

    line: int
    id: str
    type: str
    sequence: str
    at: datetime
    disposition: str
    details: str = ""

    @property
    def number(self) -> int | None:
        """The sequence as a number ("10" comes after "2"); None where it is none."""
        return int(self.sequence) if self.sequence.isascii() and self.sequence.isdigit() else None

    @property
    def has_zone(self) -> bool:
        """Whether the log said the offset from UTC."""
        return self.at.tzinfo is not None

    @property
    def happened(self) -> bool:
        """Whether the log says that it was done: a failed try is none."""
        return self.disposition != "failure"

    def moment(self, zone: str) -> datetime:
        """When, in aware UTC; a time without an offset is taken as wall time in this IANA zone."""
        return self.at if self.has_zone else self.at.replace(tzinfo=ZoneInfo(zone)).astimezone(UTC)


@dataclass(frozen=True, slots=True)
class LogDevice:
    """One device of a log file and its events in the order of the file."""

    id: str
    model: str
    manufacturer: str
    type: str
    version: str
    events: tuple[LogEvent, ...]

    def in_order(self) -> tuple[LogEvent, ...]:
        """The events by their number; those without one stay behind the one they follow in the file."""
        numbered: list[tuple[int, int, LogEvent]] = []
        last = -1
        for event in self.events:
            last = event.number if event.number is not None else last
            numbered.append((last, event.line, event))
        return tuple(event for _, _, event in sorted(numbered, key=lambda each: each[:2]))


@dataclass(frozen=True, slots=True)
class DeviceLog:
    """One log file: whatever number of devices, of one election."""

    election: str
    generated_at: str
    devices: tuple[LogDevice, ...]


@dataclass(frozen=True, slots=True)
class LogDocumentation:
    """What the maker says the ids of a model's events mean."""

    manufacturer: str
    model: str
    ids: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class LogWindow:
    """The stretch of a log that is election day: from midnight to noon of the next day, aware UTC.

    What a device did at testing, days before, tells nothing of the day.
    """

    begins: datetime
    ends: datetime

    @classmethod
    def of(cls, day: date, zone: str) -> "LogWindow":
        """The window of an election day at a place with this IANA zone."""
        begins = datetime.combine(day, time(0), ZoneInfo(zone)).astimezone(UTC)
        ends = datetime.combine(day + timedelta(days=1), time(12), ZoneInfo(zone)).astimezone(UTC)
        return cls(begins, ends)

    def __contains__(self, moment: datetime) -> bool:
        return self.begins <= moment <= self.ends
