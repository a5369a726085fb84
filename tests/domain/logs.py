"""Builders for tests of devices' logs: an invented model, its map, and events by the minute."""

from datetime import date, datetime, timedelta
from types import MappingProxyType

from county.domain.device_log import DeviceLog, LogDevice, LogDocumentation, LogEvent, LogWindow
from county.domain.log_faults import LogScene
from county.domain.log_milestones import LogMaps, Milestone
from tests.builders import OPENS

MODEL = "Harrow S2"
ZONE = "America/Chicago"
IDS = MappingProxyType(
    {
        "P1": Milestone.POWERED,
        "Z": Milestone.ZERO_REPORT,
        "O": Milestone.OPENED,
        "B": Milestone.NOTHING,
        "C": Milestone.CLOSED,
        "R": Milestone.RESULTS_PRINTED,
        "L": Milestone.POWER_LOST,
        "M": Milestone.POWER_RESTORED,
        "W": Milestone.BATTERY_LOW,
    }
)
MAPS = LogMaps(MappingProxyType({MODEL: IDS}))
DOCUMENTATION = LogDocumentation("Harrow", MODEL, MappingProxyType({each: str(what) for each, what in IDS.items()}))
WINDOW = LogWindow.of(date(2026, 11, 3), ZONE)


def an_event(id: str, minutes: float = 0, sequence: str = "", *, line: int = 1, **more: object) -> LogEvent:  # noqa: A002
    """An event so many minutes after 06:00 of the day; its sequence is its line where nothing else is said."""
    at = OPENS + timedelta(minutes=minutes)
    usual = {"type": "T", "disposition": "success", "at": at}
    return LogEvent(line=line, id=id, sequence=sequence or str(line), **(usual | more))  # type: ignore[arg-type]


def a_device(*events: tuple[str, float], **more: str) -> LogDevice:
    """The log of SC-0141 with these events, one (id, minutes) after the other."""
    usual = {"id": "SC-0141", "model": MODEL, "manufacturer": "Harrow", "type": "scan-single", "version": "1"}
    made = tuple(an_event(id, at, line=number) for number, (id, at) in enumerate(events, 1))  # noqa: A001
    return LogDevice(**(usual | more), events=made)


def a_log(*devices: LogDevice) -> DeviceLog:
    return DeviceLog("GEN", "2026-11-04T09:00:00Z", devices)


def a_scene(device: LogDevice, **more: object) -> LogScene:
    usual = {"maps": MAPS, "documentation": DOCUMENTATION, "zone": ZONE, "known": "SC-0141", "window": WINDOW}
    return LogScene(device, **(usual | more))  # type: ignore[arg-type]


def naive(minutes: float) -> datetime:
    """06:00 and so many minutes as a wall time without an offset."""
    return datetime(2026, 11, 3, 6) + timedelta(minutes=minutes)  # noqa: DTZ001
