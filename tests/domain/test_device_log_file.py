"""A log file that cannot be read in whole is refused, with device, event and field named; nothing is guessed."""

import json
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from county.domain.device_log import DeviceLog, LogDocumentation
from county.domain.device_log_file import LARGEST, NAMESPACE, read_log_file
from county.errors import Refused
from county.rehearsal.log_writing import log_as_json, log_as_xml
from tests.domain.logs import a_device, a_log

WHOLE = log_as_json(a_log(a_device(("O", 0), ("C", 780)))).decode()


def refused(data: bytes) -> list[str]:
    with pytest.raises(Refused) as caught:
        read_log_file(data)
    return [str(problem) for problem in caught.value.problems]


def with_event(**fields: object) -> bytes:
    log = json.loads(WHOLE)
    event = log["Device"][0]["Event"][1]
    log["Device"][0]["Event"][1] = {name: value for name, value in (event | fields).items() if value is not None}
    return json.dumps(log).encode()


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "cannot be read as XML: no element found: line 1, column 0"),
        (b"Date,Event\n", "cannot be read as XML: syntax error: line 1, column 0"),
        (b"{", "cannot be read as JSON: Expecting property name enclosed in double quotes: line 1 column 2 (char 1)"),
        (b'{"a": 1, "a": 2}', "cannot be read as JSON: a name stands twice among a, a"),
        (b'{"@type": "EventLogging.Ballot"}', "begins with Ballot, not with ElectionEventLog or"),
        (b"<ElectionEventLog/>", f"is not of the namespace {NAMESPACE}"),
        (f'<Other xmlns="{NAMESPACE}"/>'.encode(), "begins with Other, not with ElectionEventLog"),
        (b'{"@type": "ElectionEventLog", "GeneratedTime": "x"}', "Device: the log names no device"),
        (b'{"@type": "ElectionEventLog", "Device": "x"}', "the log, Device: is not a list"),
        (b'{"@type": "ElectionEventLog", "Device": ["x"]}', "the log, Device 1: is empty"),
        (with_event(Sequence=None), "device 1 (SC-0141), event 2, Sequence: is missing"),
        (with_event(Id=""), "device 1 (SC-0141), event 2, Id: is missing"),
        (with_event(Id=["C"]), "device 1 (SC-0141), event 2, Id: is not a text"),
        (with_event(Disposition="perhaps"), "event 2, Disposition: is none of failure, na, other, success"),
        (
            with_event(TimeStamp="yesterday"),
            "event 2, TimeStamp: yesterday is not a time like 2026-11-03T06:00:00-06:00",
        ),
        (with_event(TimeStamp="2026-02-30T06:00:00Z"), "2026-02-30T06:00:00Z is not a time"),
        (with_event(TimeStamp="2026-11-03T24:00:01Z"), "2026-11-03T24:00:01Z is not a time"),
        (b'{"@type": "ElectionEventLogDocumentation"}', "the documentation, DeviceModel: is missing"),
        (b"{" * 100_000, "cannot be read as JSON"),
        (f'<ElectionEventLog xmlns="{NAMESPACE}">'.encode() + b"<a>" * 30_000, "cannot be read as XML"),
    ],
)
def test_what_cannot_be_read_is_said(data: bytes, says: str) -> None:
    assert any(says in problem for problem in refused(data)), refused(data)


def test_every_problem_is_named_at_once() -> None:
    log = json.loads(WHOLE)
    for event in log["Device"][0]["Event"]:
        del event["TimeStamp"]
    assert refused(json.dumps(log).encode()) == [
        "device 1 (SC-0141), event 1, TimeStamp: is missing",
        "device 1 (SC-0141), event 2, TimeStamp: is missing",
    ]


BOMB = b'<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">]>'
OUTSIDE = b'<!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/passwd">]>'


@pytest.mark.parametrize("hostile", [BOMB, OUTSIDE])
def test_entities_of_its_own_are_not_read(hostile: bytes) -> None:
    body = f'<ElectionEventLog xmlns="{NAMESPACE}"><Details>&a;</Details></ElectionEventLog>'.encode()
    assert refused(hostile + body) == [
        "has a document type of its own, which is not read: it can be made to fill the memory"
    ]


def test_a_file_too_large_is_refused_before_it_is_read() -> None:
    assert refused(b"{" + b" " * LARGEST) == ["larger than 32 MB"]


@pytest.mark.parametrize(
    ("written", "moment"),
    [
        ("2026-11-03T06:00:00-06:00", datetime(2026, 11, 3, 12, tzinfo=UTC)),
        ("2026-11-03T12:00:00.5Z", datetime(2026, 11, 3, 12, 0, 0, 500_000, tzinfo=UTC)),
        ("2026-11-03T24:00:00-06:00", datetime(2026, 11, 4, 6, tzinfo=UTC)),
        ("2026-11-03T06:00:00", datetime(2026, 11, 3, 6)),  # noqa: DTZ001
    ],
)
def test_times_as_the_schema_allows_them(written: str, moment: datetime) -> None:
    read = read_log_file(with_event(TimeStamp=written))
    assert isinstance(read, DeviceLog)
    assert read.devices[0].events[1].at == moment


def test_a_number_where_the_schema_wants_its_text_is_taken() -> None:
    read = read_log_file(with_event(Sequence=17))
    assert isinstance(read, DeviceLog)
    assert read.devices[0].events[1].sequence == "17"


def test_who_was_signed_in_on_the_device_is_not_read() -> None:
    read = read_log_file(with_event(UserId="N-OFFICER"))
    assert "N-OFFICER" not in repr(read)


def read_or_refused(data: bytes) -> bool:
    """Whether nothing else happened than reading it, or refusing it with at least one problem."""
    try:
        return isinstance(read_log_file(data), DeviceLog | LogDocumentation)
    except Refused as refusal:
        return bool(refusal.problems)


@given(st.binary(max_size=200))
def test_no_bytes_at_all_do_anything_but_be_read_or_refused(data: bytes) -> None:
    assert read_or_refused(data)


@given(st.data())
def test_one_byte_changed_is_read_or_refused(draw: st.DataObject) -> None:
    data = bytearray(log_as_xml(a_log(a_device(("O", 0), ("C", 780)))))
    data[draw.draw(st.integers(0, len(data) - 1))] = draw.draw(st.integers(0, 255))
    assert read_or_refused(bytes(data))
