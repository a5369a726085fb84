"""The office takes in devices' own logs: the bytes are kept as they came, and their digest is a fact of the ledger."""

from dataclasses import dataclass
from types import MappingProxyType

from county.domain.device_log import DeviceLog, LogDocumentation
from county.domain.device_log_file import read_log_file
from county.domain.entries import Entry, Kind
from county.domain.logs_beside import DeviceBeside, LogFile, logs_beside
from county.domain.picture import Picture
from county.errors import Refused
from county.store import device_logs, ledger
from county.store.engine import reading, writing
from county.wiring import Office

_LONGEST_NAME = 200


@dataclass(frozen=True, slots=True)
class TakenIn:
    """One file: its name and SHA-256, whether it is new, and the devices it speaks of (none: it is documentation)."""

    name: str
    digest: str
    new: bool
    devices: tuple[str, ...]


def look_at(name: str, content: bytes) -> TakenIn:
    """What a file holds, without keeping it. Raises Refused with every problem found in it."""
    read = read_log_file(content)
    devices = tuple(device.id for device in read.devices) if isinstance(read, DeviceLog) else ()
    return TakenIn(name[-_LONGEST_NAME:], device_logs.digest_of(content), new=True, devices=devices)


def take_in(office: Office, name: str, content: bytes, by: str, door: str) -> TakenIn:
    """Keep a file and the fact that it was taken in, in one transaction; the same bytes again change nothing.

    Raises Refused with every problem found in it; then nothing is kept.
    """
    seen = look_at(name, content)
    now = office.clock.now()
    with writing(office.engine) as connection:
        if not device_logs.put(connection, seen.name, content, now):
            return TakenIn(seen.name, seen.digest, new=False, devices=seen.devices)
        ledger.append(connection, [_fact(office, seen, len(content), by, door)])
    return seen


def kept(office: Office, after: int = 0) -> tuple[tuple[int, LogFile], ...]:
    """Every file taken in after this number, with its own number."""
    with reading(office.engine) as connection:
        stored = device_logs.load(connection, after)
    return tuple((each.number, LogFile(each.name, each.digest, _read(each.content))) for each in stored)


def _read(content: bytes) -> DeviceLog | LogDocumentation | Refused:
    try:
        return read_log_file(content)
    except Refused as why:
        return why


def beside(office: Office, picture: Picture) -> tuple[DeviceBeside, ...]:
    """Every log taken in, held against the day as this picture has it."""
    return logs_beside([file for _, file in kept(office)], picture)


def _fact(office: Office, seen: TakenIn, size: int, by: str, door: str) -> Entry:
    now = office.clock.now()
    fields: dict[str, object] = {"file": seen.name, "sha256": seen.digest, "bytes": size}
    if seen.devices:
        fields["devices"] = seen.devices
    return Entry(
        key=f"device-log/{seen.digest[:40]}",
        kind=Kind.DEVICE_LOG,
        place="",
        happened_at=now,
        received_at=now,
        by=by,
        door=door,
        sender=f"{door}:{by}",
        fields=MappingProxyType(fields),
        clock=office.clock.word,
    )
