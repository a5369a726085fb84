"""A device's log written as its maker would: NIST SP 1500-101 (schema 1.0.2), XML or JSON."""

import json
from collections.abc import Iterator
from datetime import UTC, datetime
from xml.etree.ElementTree import Element, SubElement, indent, register_namespace, tostring

from county.domain.device_log import DeviceLog, LogDevice, LogDocumentation, LogEvent
from county.domain.device_log_file import NAMESPACE

_DEVICE = (("Id", "id"), ("Manufacturer", "manufacturer"), ("Model", "model"), ("Type", "type"), ("Version", "version"))
_EVENT = (
    ("Details", "details"),
    ("Disposition", "disposition"),
    ("Id", "id"),
    ("Sequence", "sequence"),
    ("TimeStamp", "at"),
    ("Type", "type"),
)
"""The standard's names in the order its schema wants them, beside ours; what is empty is left out."""


def log_as_xml(log: DeviceLog) -> bytes:
    """The log as XML in UTF-8."""
    root = _root("ElectionEventLog")
    for device in log.devices:
        element = SubElement(root, _tag("Device"))
        for event in device.events:
            _texts(SubElement(element, _tag("Event")), _told(event, _EVENT))
        _texts(element, _told(device, _DEVICE))
    _texts(root, _whole(log))
    return _bytes(root)


def log_as_json(log: DeviceLog) -> bytes:
    """The log as JSON in UTF-8."""
    devices = [
        {
            "@type": "EventLogging.Device",
            "Event": [{"@type": "EventLogging.Event", **dict(_told(event, _EVENT))} for event in device.events],
            **dict(_told(device, _DEVICE)),
        }
        for device in log.devices
    ]
    whole = {"@type": "EventLogging.ElectionEventLog", "Device": devices, **dict(_whole(log))}
    return json.dumps(whole, indent=1, ensure_ascii=False).encode()


def documentation_as_xml(documentation: LogDocumentation, generated: str) -> bytes:
    """The documentation as XML in UTF-8; `generated` is its date, such as 2026-01-31."""
    root = _root("ElectionEventLogDocumentation")
    _texts(root, iter([("DeviceManufacturer", documentation.manufacturer), ("DeviceModel", documentation.model)]))
    for each, says in documentation.ids.items():
        _texts(SubElement(root, _tag("EventIdDescription")), iter([("Description", says), ("Id", each)]))
    _texts(SubElement(root, _tag("EventTypeDescription")), iter([("Description", "Everything"), ("Type", "all")]))
    _texts(root, iter([("GeneratedDate", generated)]))
    return _bytes(root)


def _told(of: LogEvent | LogDevice, names: tuple[tuple[str, str], ...]) -> Iterator[tuple[str, str]]:
    for name, ours in names:
        value = getattr(of, ours)
        text = _time(value) if isinstance(value, datetime) else value
        if text:
            yield name, text


def _whole(log: DeviceLog) -> Iterator[tuple[str, str]]:
    if log.election:
        yield "ElectionId", log.election
    yield "GeneratedTime", log.generated_at


def _time(moment: datetime) -> str:
    """An aware time in UTC, a naive one as it stands, without an offset."""
    return (moment.astimezone(UTC) if moment.tzinfo else moment).isoformat().replace("+00:00", "Z")


def _tag(name: str) -> str:
    return f"{{{NAMESPACE}}}{name}"


def _root(name: str) -> Element:
    register_namespace("", NAMESPACE)
    return Element(_tag(name))


def _texts(element: Element, texts: Iterator[tuple[str, str]]) -> None:
    for name, text in texts:
        SubElement(element, _tag(name)).text = text


def _bytes(root: Element) -> bytes:
    indent(root)
    return bytes(tostring(root, encoding="utf-8", xml_declaration=True))
