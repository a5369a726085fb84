"""Devices' logs against NIST's own sample and schema.

Source: NIST, repositories usnistgov/cdf-test-method (`test_data/synthetic/gen-01/eel_v1`) and
usnistgov/ElectionEventLogging (schema 1.0.2 of SP 1500-101).
"""

import json
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from functools import cache
from types import MappingProxyType

import jsonschema
import pytest
import xmlschema
from hypothesis import given
from hypothesis import strategies as st

from county.domain.device_log import DeviceLog, LogDocumentation, LogWindow
from county.domain.device_log_file import read_log_file
from county.domain.expected import expected_at
from county.domain.log_claims import PowerLoss, Verdict, log_claims, power_losses
from county.domain.log_faults import LogScene, log_faults
from county.domain.log_milestones import LogMaps, Milestone
from county.domain.place_day import fold
from county.domain.roster import Device, Place, Roster
from county.rehearsal.log_writing import documentation_as_xml, log_as_json, log_as_xml
from tests.builders import ELECTION, a_plan, a_step
from tests.domain.logs import DOCUMENTATION, a_device, a_log
from tests.reference import reference_file

ZONE = "America/New_York"
WINDOW = LogWindow.of(date(2000, 11, 7), ZONE)
MODEL = "Voter-facing scanner 1200"
MAPS = LogMaps(
    MappingProxyType(
        {
            MODEL: MappingProxyType(
                {
                    "VC-EE-PO": Milestone.OPENED,
                    "VC-EE-PC": Milestone.CLOSED,
                    "VC-EE-TZ": Milestone.ZERO_REPORT,
                    "VC-PW-LN": Milestone.POWER_LOST,
                    "VC-PW-LR": Milestone.POWER_RESTORED,
                    "VC-PW-BL": Milestone.BATTERY_LOW,
                    "VC-SM-E": Milestone.NOTHING,
                    "VC-SM-EE": Milestone.NOTHING,
                }
            )
        }
    )
)
PLACE = Place("P1", "Sample Hall")
ROSTER = Roster(
    places=(PLACE,),
    devices=(Device("A", "P1", "scanner", serial="12345678"), Device("B", "P1", "scanner", serial="23456789")),
)
PLAN = a_plan(election=replace(ELECTION, date=date(2000, 11, 7), zone=ZONE))


def at(clock: str) -> datetime:
    return datetime.fromisoformat(f"2000-11-07T{clock}-05:00").astimezone(UTC)


@pytest.fixture(params=["eel-gen-01.xml", "eel-gen-01.json"])
def sample(request: pytest.FixtureRequest) -> DeviceLog:
    read = read_log_file(reference_file(request.param).read_bytes())
    assert isinstance(read, DeviceLog)
    return read


@pytest.fixture(params=["eel-documentation-gen-01.xml", "eel-documentation-gen-01.json"])
def documentation(request: pytest.FixtureRequest) -> LogDocumentation:
    read = read_log_file(reference_file(request.param).read_bytes())
    assert isinstance(read, LogDocumentation)
    return read


def test_the_sample_has_two_devices_with_six_and_ten_events(sample: DeviceLog) -> None:
    assert [(device.id, len(device.events)) for device in sample.devices] == [("12345678", 6), ("23456789", 10)]


def test_xml_and_json_say_the_same() -> None:
    in_both = [read_log_file(reference_file(f"eel-gen-01.{kind}").read_bytes()) for kind in ("xml", "json")]
    assert in_both[0] == in_both[1]


def test_opened_and_closed_are_read_to_the_second_and_held_against_the_report(sample: DeviceLog) -> None:
    day = fold(
        expected_at(PLACE, ROSTER, PLAN),
        [
            a_step("zero-report", at("06:40:00"), place="P1", device="A"),
            a_step("open", at("07:00:00"), place="P1"),
            a_step("closed", at("19:00:00"), place="P1"),
        ],
    )
    found = [
        {claim.what: claim for claim in log_claims(device, day, name, MAPS, ZONE, WINDOW)}
        for device, name in zip(sample.devices, "AB", strict=True)
    ]
    assert [claims["opened"].log_at for claims in found] == [at("07:00:05"), at("07:01:05")]
    assert [claims["closed"].log_at for claims in found] == [at("19:30:10"), at("19:30:10")]
    assert {claims["opened"].verdict for claims in found} == {Verdict.AGREES}
    assert {claims["closed"].ahead for claims in found} == {timedelta(minutes=30, seconds=10)}
    for claims in found:
        assert claims["zero-report"].verdict is Verdict.LOG_SILENT
        assert claims["zero-report"].says == "no zero-check in the log"


def test_power_was_lost_from_eight_to_a_quarter_past_ten(sample: DeviceLog) -> None:
    first, second = sample.devices
    assert power_losses(first, MAPS, ZONE, WINDOW) == ()
    assert power_losses(second, MAPS, ZONE, WINDOW) == (PowerLoss(at("08:00:00"), at("10:15:00")),)


def test_ten_is_read_after_two(sample: DeviceLog) -> None:
    assert [event.sequence for event in sample.devices[1].in_order()] == [str(number) for number in range(1, 11)]


def test_the_documentation_defines_a_zero_check_and_is_of_another_model(
    sample: DeviceLog, documentation: LogDocumentation
) -> None:
    assert documentation.ids["VC-EE-TZ"] == "All totals are zero"
    for device in sample.devices:
        faults = log_faults(LogScene(device, MAPS, documentation, ZONE, "A", WINDOW))
        assert [(fault.id, fault.says) for fault in faults] == [
            ("other-model", f'the log says model "{MODEL}", its documentation "Acme Tabulator I"')
        ]


@cache
def json_schema() -> jsonschema.Draft4Validator:
    text = reference_file("NIST_V1_election_event_logging.json").read_text(encoding="utf-8")
    return jsonschema.Draft4Validator(json.loads(text))


@cache
def xml_schema() -> xmlschema.XMLSchema:
    return xmlschema.XMLSchema(str(reference_file("NIST_V1_election_event_logging.xsd")))


TEXTS = st.text(st.characters(min_codepoint=33, max_codepoint=0x2FF, exclude_categories=("Cc", "Cs", "Z")), min_size=1)
EVENTS = st.lists(st.tuples(TEXTS, st.integers(-600, 900)), max_size=5)
LOGS = st.lists(EVENTS, min_size=1, max_size=3).map(lambda each: a_log(*(a_device(*events) for events in each)))


@given(LOGS)
def test_a_log_of_our_own_is_valid_by_the_schemas_and_reads_back_the_same(log: DeviceLog) -> None:
    as_json, as_xml = log_as_json(log), log_as_xml(log)
    json_schema().validate(json.loads(as_json))
    xml_schema().validate(as_xml.decode())
    assert read_log_file(as_json) == log == read_log_file(as_xml)


def test_documentation_of_our_own_is_valid_and_reads_back_the_same() -> None:
    written = documentation_as_xml(DOCUMENTATION, "2026-01-31")
    xml_schema().validate(written.decode())
    assert read_log_file(written) == DOCUMENTATION


def test_the_schema_refuses_what_it_should() -> None:
    """So that the tests above can fail."""
    broken = log_as_xml(a_log(a_device(("O", 0)))).replace(b"success", b"perhaps")
    assert not xml_schema().is_valid(broken.decode())
    assert not json_schema().is_valid({"@type": "EventLogging.ElectionEventLog"})
