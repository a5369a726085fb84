"""Whatever bytes arrive, the answer is the contract's; it is never a failure of ours, and nothing is lost."""

import json
import logging
import socket
from contextlib import suppress

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from county.domain.entries import FIELDS
from tests.ingest.an_office import House, a_report

GOOD = json.dumps(a_report())


@pytest.mark.parametrize(
    ("body", "field", "says"),
    [
        (b"", "body", "empty"),
        (b" \n\t", "body", "empty"),
        (b"\xef\xbb\xbf", "body", "empty"),
        (b"hello", "body", "not JSON"),
        (b"{", "body", "not JSON"),
        (GOOD.encode() + b"x", "body", "not JSON"),
        (GOOD.encode() * 2, "body", "not JSON"),
        (b"\0", "body", "not JSON"),
        (b'{"note": "a\0b"}', "body", "not JSON"),
        (b'{"note": "\xff\xfe"}', "body", "not UTF-8"),
        (GOOD.encode("utf-16"), "body", "not UTF-8"),
        (GOOD.encode("utf-32-le"), "body", "not JSON"),
        (b"\x1f\x8b\x08\x00", "body", "not UTF-8"),
        (b"[" * 100_000, "body", "nested too deep"),
        (b'{"a":' * 100_000, "body", "nested too deep"),
        (b'{"key": "a", "key": "b"}', "key", "twice"),
        (b'{"reports": [], "reports": []}', "reports", "twice"),
    ],
)
def test_a_body_that_is_no_json_of_one_meaning_is_refused_and_set_aside(
    shared_house: House, body: bytes, field: str, says: str
) -> None:
    reply = shared_house.send(body)
    assert reply.status == 422
    assert reply.fields == [field]
    assert says in reply["errors"][0]["says"]
    assert shared_house.aside()[0].reason == "refused"
    assert shared_house.ledger() == []


def test_numbers_that_are_no_json_are_refused_by_their_field(shared_house: House) -> None:
    for number in ("NaN", "Infinity", "-Infinity", "1e400", "-0.5", "9" * 5_000, "-" + "9" * 5_000):
        body = GOOD.replace('"public_counter": 0', f'"public_counter": {number}')
        assert body != GOOD
        reply = shared_house.send(body.encode())
        assert (reply.status, reply.fields) == (422, ["public_counter"])


def test_a_byte_order_mark_before_the_json_does_no_harm(house: House) -> None:
    assert house.send(b"\xef\xbb\xbf" + GOOD.encode()).status == 201


def test_many_repeated_names_are_found_without_delay(shared_house: House) -> None:
    names = ",".join(f'"f{n}":1' for n in range(200_000))
    reply = shared_house.send(f'{{{names},"f199999":1}}'.encode())
    assert (reply.status, reply.fields) == (422, ["f199999"])


def test_no_more_problems_are_told_than_a_person_reads(shared_house: House) -> None:
    reply = shared_house.send(json.dumps({f"f{n}": 1 for n in range(50_000)}).encode())
    assert reply.status == 422
    assert len(reply.fields) == 100


@pytest.mark.parametrize(
    ("method", "path", "status", "field"),
    [
        ("GET", "/", 404, "path"),
        ("GET", "/report", 404, "path"),
        ("POST", "/reports/", 404, "path"),
        ("GET", "/%00%ff", 404, "path"),
        ("GET", "/cases/P014.silent/actions", 405, "method"),
        ("GET", "/reports", 405, "method"),
        ("PUT", "/reports", 405, "method"),
        ("DELETE", "/ledger", 405, "method"),
        ("HEAD", "/picture", 405, ""),
        ("OPTIONS", "/reports", 405, "method"),
        ("POST", "/health", 405, "method"),
    ],
)
def test_what_is_not_there_is_said_in_problem_details(
    shared_house: House, method: str, path: str, status: int, field: str
) -> None:
    reply = shared_house.ask(method, path, None, shared_house.desk_key)
    assert reply.status == status
    if field:
        assert reply.fields == [field]
    if status == 405:
        assert reply.headers["allow"]


@pytest.mark.parametrize(
    ("path", "field"),
    [
        ("/ledger?limit=abc", "limit"),
        ("/ledger?limit=0", "limit"),
        ("/ledger?limit=-1", "limit"),
        ("/ledger?limit=1000000", "limit"),
        ("/ledger?after=-1", "after"),
        ("/ledger?after=" + "9" * 5_000, "after"),
        ("/ledger?after=1.5", "after"),
        ("/ledger?afer=1", "afer"),
        ("/picture?at=yesterday", "at"),
        ("/picture?at=2026-11-03T05:00:00", "at"),
        ("/picture?at=%00", "at"),
        ("/picture?at=%ff", "at"),
        ("/picture?view=both", "view"),
        ("/picture?place=P999", "place"),
        ("/picture?when=now", "when"),
        ("/cases?state=closed", "state"),
        ("/cases?place=%ed%a0%80", "place"),
    ],
)
def test_a_bad_value_in_a_query_is_refused_by_its_name(shared_house: House, path: str, field: str) -> None:
    reply = shared_house.get(path)
    assert (reply.status, reply.fields) == (422, [field])


@pytest.mark.parametrize(
    "request_bytes",
    [
        b"nonsense\r\n\r\n",
        b"POST /reports HTTP/1.1\r\nHost: x\r\nContent-Length: -1\r\n\r\n",
        b"POST /reports HTTP/1.1\r\nHost: x\r\nContent-Length: 5\r\nTransfer-Encoding: chunked\r\n\r\nzz\r\n",
        b"\x16\x03\x01\x02\x00",
        b"GET /\xff HTTP/1.1\r\n\r\n",
        b"GET / HTTP/9.9\r\n\r\n",
    ],
)
def test_what_is_no_http_is_a_bad_request(shared_house: House, request_bytes: bytes) -> None:
    with socket.create_connection(("127.0.0.1", shared_house.port), timeout=10) as connection:
        connection.sendall(request_bytes)
        assert connection.recv(1_000).startswith((b"HTTP/1.1 400", b"HTTP/1.1 404", b"HTTP/1.1 401"))
    assert shared_house.get("/health").status == 200


@pytest.mark.parametrize(
    "head", [b"GET /health HTTP/1.1\r\nX: ", b"GET /", b"GET /health HTTP/1.1\r\n" + b"X: y\r\n" * 9_000]
)
def test_a_head_without_end_is_refused_and_not_held(shared_house: House, head: bytes) -> None:
    with socket.create_connection(("127.0.0.1", shared_house.port), timeout=10) as connection:
        connection.sendall(head)
        sent = 0
        with suppress(BrokenPipeError, ConnectionResetError):
            while sent < 50_000_000:
                sent += connection.send(b"x" * 60_000)
        assert sent < 50_000_000
        assert connection.recv(20) in (b"HTTP/1.1 431 Request", b"HTTP/1.1 400 Bad Req")


def test_a_body_that_does_not_come_is_not_waited_for_without_end(
    shared_house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("ingest.body.READ_WITHIN", 0.2)
    head = f"POST /reports HTTP/1.1\r\nHost: x\r\nAuthorization: Bearer {shared_house.place_key}\r\n"
    with socket.create_connection(("127.0.0.1", shared_house.port), timeout=10) as connection:
        connection.sendall(f"{head}Content-Length: 1000\r\n\r\n{{".encode())
        answer = connection.recv(4_096)
    assert answer.startswith(b"HTTP/1.1 408 ")
    assert b"application/problem+json" in answer


def test_a_sender_that_leaves_in_the_middle_of_its_body_harms_nobody(
    shared_house: House, caplog: pytest.LogCaptureFixture
) -> None:
    head = f"POST /reports HTTP/1.1\r\nHost: x\r\nAuthorization: Bearer {shared_house.place_key}\r\n"
    with socket.create_connection(("127.0.0.1", shared_house.port), timeout=10) as connection:
        connection.sendall(f"{head}Content-Length: 1000\r\n\r\n{{".encode())
    assert shared_house.get("/health").status == 200
    assert not [record for record in caplog.records if record.levelno > logging.INFO]


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(st.characters(), max_size=40),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4),
    max_leaves=12,
)
LIKELY = st.sampled_from(
    ["P014", "14A", "P015", "step", "count", "exception", "interruption", "note", "correction", "zero-report", "open",
     "SC-0141", "stopped", "no-power", "2026-11-03T05:41:00-06:00", "2026-11-03T05:41:00", "0001-01-01T00:00:00+14:00",
     "9999-12-31T23:59:59-14:00", "zero-1", 0, 1, 999_999_999, True, "true", "yes"]
)  # fmt: skip
NAMES = st.sampled_from(["key", "kind", "place", "happened_at", *FIELDS])
REPORTS = st.dictionaries(NAMES | st.text(max_size=6), LIKELY | JSON, max_size=10)
ALMOST = REPORTS.map(lambda wrong: a_report() | wrong)
BODIES = JSON | REPORTS | ALMOST | st.fixed_dictionaries({"reports": st.lists(ALMOST | JSON, max_size=4)})
CONTRACT = {200, 201, 403, 409, 422}


@given(BODIES)
@settings(max_examples=300, deadline=None, suppress_health_check=list(HealthCheck))
def test_whatever_json_arrives_is_answered_by_the_contract(shared_house: House, body: object) -> None:
    reply = shared_house.post(body)
    assert reply.status in CONTRACT
    if reply.status > 201:
        assert reply.fields
    if reply.status == 200 and isinstance(body, dict) and "reports" in body:
        assert len(reply["receipts"]) == len(body["reports"])


@given(st.binary(max_size=200))
@settings(max_examples=150, deadline=None, suppress_health_check=list(HealthCheck))
def test_whatever_bytes_arrive_are_answered_by_the_contract(shared_house: House, body: bytes) -> None:
    reply = shared_house.send(body)
    assert reply.status == 422
    assert reply.fields


@given(
    JSON | st.dictionaries(st.sampled_from(["key", "action", "rover", "effect", "note", "happened_at"]), JSON | LIKELY)
)
@settings(max_examples=150, deadline=None, suppress_health_check=list(HealthCheck))
def test_whatever_is_sent_as_an_action_is_answered_by_the_contract(shared_house: House, body: object) -> None:
    for case in ("P014.late-opening", "nothing/there", "\0"):
        assert shared_house.act(case, body).status in {200, 201, 404, 409, 422}
