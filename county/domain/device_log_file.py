"""The bytes of a device's log (NIST SP 1500-101, version 1, XML or JSON) become values, or every reason why not."""

import json
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import UTC, datetime, timedelta
from types import MappingProxyType
from typing import Any
from xml.etree.ElementTree import Element, ParseError

from defusedxml.common import DefusedXmlException
from defusedxml.ElementTree import fromstring

from county.domain.device_log import DeviceLog, LogDevice, LogDocumentation, LogEvent
from county.errors import Problem, Refused

NAMESPACE = "http://itl.nist.gov/ns/voting/1500-101/v1"
LARGEST = 32_000_000
_LONGEST = 4_000
_SHOWN = 40
_LOG, _DOCUMENTATION = "ElectionEventLog", "ElectionEventLogDocumentation"
_MANY = frozenset({"Device", "Event", "EventIdDescription", "EventTypeDescription"})
_DISPOSITIONS = ("failure", "na", "other", "success")
_TIME = re.compile(r"(\d{4}-\d{2}-\d{2})T(\d{2}):(\d{2}):(\d{2})(\.\d{1,9})?(Z|[+-]\d{2}:\d{2})?", re.ASCII)

Node = Mapping[str, Any]


def read_log_file(data: bytes) -> DeviceLog | LogDocumentation:
    """Read a log, or the documentation beside it, from the bytes of its file.

    Raises Refused with every problem found, each with device and event where it has one: a file that is read in part
    would say less than it holds.
    """
    if len(data) > LARGEST:
        raise _refused("", f"larger than {LARGEST // 1_000_000} MB")
    kind, node = _from_json(data) if data.lstrip(b"\xef\xbb\xbf \t\r\n")[:1] == b"{" else _from_xml(data)
    reader = _READERS.get(kind)
    if reader is None:
        raise _refused("", f"begins with {kind[:_SHOWN]}, not with {_LOG} or {_DOCUMENTATION}")
    problems: list[Problem] = []
    read = reader(node, problems)
    if problems:
        raise Refused(problems)
    return read


def _refused(field: str, says: str) -> Refused:
    return Refused([Problem(field, says)])


def _from_json(data: bytes) -> tuple[str, Node]:
    try:
        node = json.loads(data.decode("utf-8-sig"), object_pairs_hook=_object)
    except (UnicodeDecodeError, ValueError, RecursionError) as error:
        raise _refused("", f"cannot be read as JSON: {' '.join(str(error).split())[:200]}") from None
    kind = str(node.get("@type", "")).removeprefix("EventLogging.")
    return kind, node


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """An object whose names stand once: of two events lists one would be lost in silence."""
    if len(dict(pairs)) < len(pairs):
        raise ValueError(f"a name stands twice among {', '.join(name for name, _ in pairs)[:100]}")
    return dict(pairs)


def _from_xml(data: bytes) -> tuple[str, Node]:
    try:
        root = fromstring(data, forbid_dtd=True)
    except DefusedXmlException:
        raise _refused(
            "", "has a document type of its own, which is not read: it can be made to fill the memory"
        ) from None
    except (ParseError, ValueError, LookupError) as error:
        raise _refused("", f"cannot be read as XML: {' '.join(str(error).split())[:200]}") from None
    space, _, kind = root.tag.rpartition("}")
    if space != f"{{{NAMESPACE}":
        raise _refused("", f"is not of the namespace {NAMESPACE}")
    try:
        return kind, _node(root)
    except RecursionError:
        raise _refused("", "cannot be read as XML: elements within elements without end") from None


def _node(element: Element) -> Node:
    """An element as JSON would have it: children by name, those of which there may be many as lists."""
    node: dict[str, Any] = {}
    for child in element:
        name = str(child.tag).rpartition("}")[2]
        value = _node(child) if len(child) else (child.text or "").strip()
        if name in _MANY:
            node.setdefault(name, []).append(value)
        else:
            node[name] = value
    return node


def _log(node: Node, problems: list[Problem]) -> DeviceLog:
    devices = tuple(
        _device(device, f"device {number}", problems) for number, device in _many(node, "Device", "the log", problems)
    )
    if not devices:
        problems.append(Problem("Device", "the log names no device"))
    return DeviceLog(
        _text(node, "ElectionId", "the log", problems), _text(node, "GeneratedTime", "the log", problems), devices
    )


def _device(node: Node, where: str, problems: list[Problem]) -> LogDevice:
    device = _needed(node, "Id", where, problems)
    named = f"{where} ({device})" if device else where
    return LogDevice(
        id=device,
        model=_text(node, "Model", named, problems),
        manufacturer=_text(node, "Manufacturer", named, problems),
        type=_text(node, "Type", named, problems),
        version=_text(node, "Version", named, problems),
        events=tuple(_events(node, named, problems)),
    )


def _events(node: Node, where: str, problems: list[Problem]) -> Iterator[LogEvent]:
    for number, event in _many(node, "Event", where, problems):
        named = f"{where}, event {number}"
        at = _time(_needed(event, "TimeStamp", named, problems), named, problems)
        disposition = _needed(event, "Disposition", named, problems)
        if disposition and disposition not in _DISPOSITIONS:
            problems.append(Problem(f"{named}, Disposition", f"is none of {', '.join(_DISPOSITIONS)}"))
        yield LogEvent(
            line=number,
            id=_needed(event, "Id", named, problems),
            type=_needed(event, "Type", named, problems),
            sequence=_needed(event, "Sequence", named, problems),
            at=at or datetime.min.replace(tzinfo=UTC),
            disposition=disposition,
            details=_text(event, "Details", named, problems),
        )


def _documentation(node: Node, problems: list[Problem]) -> LogDocumentation:
    where = "the documentation"
    ids = {
        _needed(each, "Id", f"{where}, id {number}", problems): _text(each, "Description", where, problems)
        for number, each in _many(node, "EventIdDescription", where, problems)
    }
    return LogDocumentation(
        manufacturer=_text(node, "DeviceManufacturer", where, problems),
        model=_needed(node, "DeviceModel", where, problems),
        ids=MappingProxyType(ids),
    )


def _many(node: Node, name: str, where: str, problems: list[Problem]) -> list[tuple[int, Node]]:
    value = node.get(name, [])
    if not isinstance(value, Sequence) or isinstance(value, str):
        problems.append(Problem(f"{where}, {name}", "is not a list"))
        return []
    found = []
    for number, each in enumerate(value, 1):
        if isinstance(each, Mapping):
            found.append((number, each))
        else:
            problems.append(Problem(f"{where}, {name} {number}", "is empty"))
    return found


def _text(node: Node, name: str, where: str, problems: list[Problem]) -> str:
    value = node.get(name, "")
    if isinstance(value, int) and not isinstance(value, bool):
        value = str(value)
    if not isinstance(value, str):
        problems.append(Problem(f"{where}, {name}", "is not a text"))
        return ""
    return " ".join(value.split())[:_LONGEST]


def _needed(node: Node, name: str, where: str, problems: list[Problem]) -> str:
    value = _text(node, name, where, problems)
    if not value and not (problems and problems[-1].field == f"{where}, {name}"):
        problems.append(Problem(f"{where}, {name}", "is missing"))
    return value


def _time(text: str, where: str, problems: list[Problem]) -> datetime | None:
    """An XML Schema dateTime: aware UTC where it has an offset, else naive; 24:00:00 is the next midnight."""
    if not text:
        return None
    found = _TIME.fullmatch(text)
    try:
        if found is None:
            raise ValueError
        day, hour, minute, second, fraction, offset = found.groups()
        end_of_day = (hour, minute, second) == ("24", "00", "00")
        written = f"{day}T{'00' if end_of_day else hour}:{minute}:{second}{(fraction or '')[:7]}{offset or ''}"
        moment = datetime.fromisoformat(written) + timedelta(days=end_of_day)
        return moment.astimezone(UTC) if offset else moment
    except (ValueError, OverflowError):
        problems.append(Problem(f"{where}, TimeStamp", f"{text[:_SHOWN]} is not a time like 2026-11-03T06:00:00-06:00"))
        return None


_READERS: Mapping[str, Callable[[Node, list[Problem]], DeviceLog | LogDocumentation]] = MappingProxyType(
    {_LOG: _log, _DOCUMENTATION: _documentation}
)
