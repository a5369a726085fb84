"""Devices' logs are kept byte by byte, once, as a fact of the ledger; and they change nothing of the day."""

import hashlib
from dataclasses import replace
from types import MappingProxyType

import pytest

from county import device_logs
from county.domain.device_log import LogDevice
from county.domain.entries import Entry, Kind
from county.domain.log_claims import Verdict
from county.domain.log_milestones import LogMaps
from county.domain.picture import Picture
from county.errors import Refused
from county.rehearsal.log_writing import documentation_as_xml, log_as_json, log_as_xml
from county.store import device_logs as stored_logs
from county.store import ledger
from county.store.engine import reading, writing
from county.wiring import Office
from tests.builders import a_plan, a_roster, a_step, after
from tests.domain.logs import DOCUMENTATION, IDS, MODEL, a_device, a_log

LOG = log_as_xml(a_log(a_device(("Z", -16), ("O", 1), ("L", 100), ("M", 130)), a_device(("O", 64), id="SC-0151")))


def facts_of(office: Office) -> list[Entry]:
    with reading(office.engine) as connection:
        return [entry for entry in ledger.read(connection, 0, 100) if entry.kind is Kind.DEVICE_LOG]


def the_picture(*more: Entry) -> Picture:
    plan = replace(a_plan(), logs=LogMaps(MappingProxyType({MODEL: IDS})))
    told = [a_step("open", after(0)), a_step("open", after(4), place="P015"), *more]
    return Picture.of(a_roster(), plan, told)


def test_the_bytes_are_kept_as_they_came_and_their_digest_is_in_the_ledger(office: Office) -> None:
    taken = device_logs.take_in(office, "day.xml", LOG, "Ana", "board")
    assert taken.new
    assert taken.digest == hashlib.sha256(LOG).hexdigest()
    with reading(office.engine) as connection:
        (stored,) = stored_logs.load(connection)
    (fact,) = facts_of(office)
    assert (fact.place, fact.by) == ("", "Ana")
    assert fact.fields == {
        "file": "day.xml",
        "sha256": taken.digest,
        "bytes": len(LOG),
        "devices": ("SC-0141", "SC-0151"),
    }
    assert (stored.content, stored.digest, stored.name) == (LOG, taken.digest, "day.xml")


def test_the_same_bytes_again_change_nothing_whatever_their_name(office: Office) -> None:
    device_logs.take_in(office, "day.xml", LOG, "Ana", "board")
    again = device_logs.take_in(office, "copy.xml", LOG, "Ben", "board")
    assert not again.new
    assert len(facts_of(office)) == 1
    assert [file.name for _, file in device_logs.kept(office)] == ["day.xml"]


def test_what_cannot_be_read_is_not_kept(office: Office) -> None:
    with pytest.raises(Refused, match="cannot be read as XML"):
        device_logs.take_in(office, "day.xml", LOG[:-20], "Ana", "board")
    assert facts_of(office) == []
    assert device_logs.kept(office) == ()


def test_every_device_is_held_against_its_own_place(office: Office) -> None:
    for name, content in (("day.xml", LOG), ("ids.xml", documentation_as_xml(DOCUMENTATION, "2026-01-31"))):
        device_logs.take_in(office, name, content, "Ana", "board")
    first, second = device_logs.beside(office, the_picture())
    assert (first.place, first.device, second.place, second.device) == ("P014", "SC-0141", "P015", "SC-0151")
    assert {claim.what: claim.verdict for claim in first.claims} == {
        "powered": Verdict.LOG_SILENT,
        "zero-report": Verdict.NOT_REPORTED,
        "opened": Verdict.AGREES,
        "closed": Verdict.LOG_SILENT,
        "results-printed": Verdict.LOG_SILENT,
        "power-lost": Verdict.NOT_REPORTED,
        "power-restored": Verdict.NOT_REPORTED,
    }
    opened = next(claim for claim in second.claims if claim.what == "opened")
    assert (opened.verdict, opened.clock_not_changed) == (Verdict.DIFFERS, True)
    assert first.faults == ()
    assert [line.tells for line in first.lines] == ["zero-report", "opened", "power-lost", "power-restored"]


def test_a_device_is_found_by_its_serial_and_one_that_is_not_found_comes_last(office: Office) -> None:
    roster = a_roster()
    known = tuple(replace(d, serial="HS-7") if d.device == "SC-0142" else d for d in roster.devices)
    log = a_log(a_device(("O", 0), id="HS-9"), a_device(("O", 0), id="HS-7"))
    device_logs.take_in(office, "day.json", log_as_json(log), "Ana", "board")
    picture = the_picture()
    picture = Picture.of(replace(roster, devices=known), picture.plan, [a_step("open", after(0))])
    found, lost = device_logs.beside(office, picture)
    assert (found.device, found.named) == ("SC-0142", "HS-7")
    assert (lost.place, lost.device, lost.claims) == ("", "", ())
    assert "not-in-the-roster" in {fault.id for fault in lost.faults}


def test_a_log_changes_nothing_of_the_day(office: Office) -> None:
    before = the_picture()
    device_logs.take_in(office, "day.xml", LOG, "Ana", "board")
    after_it = the_picture(*facts_of(office))
    now = after(200)
    assert [place.standing for place in after_it.everywhere(now)] == [
        place.standing for place in before.everywhere(now)
    ]
    assert after_it.cases() == before.cases()
    assert after_it.places == before.places


def test_only_one_of_two_devices_with_one_serial_would_be_a_guess(office: Office) -> None:
    roster = a_roster()
    twice = tuple(replace(device, serial="HS-7") for device in roster.devices)
    picture = Picture.of(replace(roster, devices=twice), a_plan(), [])
    log: LogDevice = a_device(("O", 0), id="HS-7")
    device_logs.take_in(office, "day.json", log_as_json(a_log(log)), "Ana", "board")
    (beside,) = device_logs.beside(office, picture)
    assert beside.device == ""


def test_a_file_that_a_later_program_cannot_read_is_said_and_holds_up_nothing(office: Office) -> None:
    device_logs.take_in(office, "day.xml", LOG, "Ana", "board")
    with writing(office.engine) as connection:
        stored_logs.put(connection, "old.xml", b"<of another time/>", office.clock.now())
    found = device_logs.beside(office, the_picture())
    assert [each.file for each in found] == ["day.xml", "day.xml", "old.xml"]
    (fault,) = found[-1].faults
    assert fault.says.startswith("kept, but can no longer be read: cannot be read as XML")
