"""Devices' logs beside the day as reported: they stand next to it and are never taken into it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from county.domain.device_log import DeviceLog, LogDevice, LogDocumentation, LogWindow
from county.domain.log_claims import LogClaim, PowerLoss, log_claims, power_losses
from county.domain.log_faults import LogFault, LogScene, log_faults
from county.domain.log_milestones import LogMaps
from county.domain.picture import Picture
from county.domain.roster import Device, Roster
from county.errors import Refused


@dataclass(frozen=True, slots=True)
class LogFile:
    """A file that was taken in: its name, its SHA-256, and what was read in it, or why it can no longer be read."""

    name: str
    digest: str
    read: DeviceLog | LogDocumentation | Refused


@dataclass(frozen=True, slots=True)
class LogLine:
    """One event: when (aware UTC), its id, what the county's map says it tells (empty: unmapped), and its details.

    `has_zone` is false where the log gave a wall time only.
    """

    at: datetime
    id: str
    tells: str
    details: str
    has_zone: bool


@dataclass(frozen=True, slots=True)
class DeviceBeside:
    """One device of one log file: claims, faults, loss of power and lines. `place` and `device` are the roster's, empty
    where it knows none of this number or serial; then there is nothing to hold the log against.
    """

    file: str
    digest: str
    named: str
    model: str
    place: str
    device: str
    claims: tuple[LogClaim, ...]
    faults: tuple[LogFault, ...]
    losses: tuple[PowerLoss, ...]
    lines: tuple[LogLine, ...]


def logs_beside(files: Sequence[LogFile], picture: Picture) -> tuple[DeviceBeside, ...]:
    """Every device of every log, by place and device; those that the roster does not know come last."""
    papers = [file.read for file in files if isinstance(file.read, LogDocumentation)]
    found = [
        _beside(file, log, papers, picture)
        for file in files
        if isinstance(file.read, DeviceLog)
        for log in file.read.devices
    ]
    found.extend(_unread(file, file.read) for file in files if isinstance(file.read, Refused))
    return tuple(sorted(found, key=lambda each: (not each.place, each.place, each.device, each.named, each.file)))


def _beside(file: LogFile, log: LogDevice, papers: Sequence[LogDocumentation], picture: Picture) -> DeviceBeside:
    roster, maps = picture.roster, picture.plan.logs
    device = _known(log, roster)
    place = roster.place_by_id[device.place] if device else None
    zone = (place.time_zone if place else "") or picture.plan.election.zone
    window = LogWindow.of(picture.plan.election.date, zone)
    known = device.device if device else ""
    claims: tuple[LogClaim, ...] = ()
    if device:
        claims = log_claims(log, picture.places[device.place].day, known, maps, zone, window)
    return DeviceBeside(
        file=file.name,
        digest=file.digest,
        named=log.id,
        model=log.model,
        place=device.place if device else "",
        device=known,
        claims=claims,
        faults=log_faults(LogScene(log, maps, _documentation(log, papers), zone, known, window)),
        losses=power_losses(log, maps, zone, window),
        lines=tuple(_lines(log, maps, zone)),
    )


def _unread(file: LogFile, why: Refused) -> DeviceBeside:
    """A file that was read when it came and is refused by the program as it is now: said, never left out."""
    fault = LogFault("unreadable", "", f"kept, but can no longer be read: {why}")
    return DeviceBeside(file.name, file.digest, "", "", "", "", (), (fault,), (), ())


def _known(log: LogDevice, roster: Roster) -> Device | None:
    """The roster's device: by its number, else by its serial where no other has the same."""
    by_number = [device for device in roster.devices if device.device == log.id]
    by_serial = [device for device in roster.devices if device.serial and device.serial == log.id]
    found = by_number or by_serial
    return found[0] if len(found) == 1 else None


def _documentation(log: LogDevice, papers: Sequence[LogDocumentation]) -> LogDocumentation | None:
    """That of the model; where only one was given at all, that one, and the difference is said."""
    same = [each for each in papers if each.model == log.model]
    return same[-1] if same else papers[0] if len(papers) == 1 else None


def _lines(log: LogDevice, maps: LogMaps, zone: str) -> Iterator[LogLine]:
    ids = maps.of(log.model)
    for event in log.in_order():
        tells = str(ids.get(event.id, ""))
        if tells and not event.happened:
            tells = f"{tells}, tried and failed"
        yield LogLine(event.moment(zone), event.id, tells, event.details, event.has_zone)
