"""Devices' logs in the pack: every claim and every fault a row, and the public copy is the same."""

from dataclasses import replace
from types import MappingProxyType

from county.domain.log_milestones import LogMaps
from county.domain.logs_beside import LogFile
from county.pack.record import Choice, Record, make_record
from county.pack.subjects.device_logs import device_log_faults, device_logs
from tests.domain.logs import IDS, MODEL, a_device, a_log
from tests.pack.a_record import a_day, kept, the_plan

LOG = a_log(a_device(("Z", -16), ("O", 1), ("X9", 5)), a_device(("O", 0), id="HS-9"))


def a_record(*, names: bool) -> Record:
    plan = replace(the_plan(), logs=LogMaps(MappingProxyType({MODEL: IDS})))
    with_log = replace(kept(a_day(), plan), logs=(LogFile("day.xml", "ab" * 32, LOG),))
    return make_record(with_log, Choice(names=names))


def test_every_claim_is_a_row_and_a_silent_log_is_said_to_be_silent() -> None:
    table = device_logs(a_record(names=False))
    rows = {(row[1], row[2]): row for row in table.rows}
    opened = rows["SC-0141", "opened"]
    assert opened[5:7] == ("differs", -33 * 60)
    assert rows["SC-0141", "closed"][5] == "the log does not say"
    assert {row[10] for row in table.rows} == {"ab" * 32}
    assert device_logs(a_record(names=True)).rows == table.rows


def test_what_is_odd_about_a_log_is_a_row_also_where_the_roster_knows_no_such_device() -> None:
    faults = device_log_faults(a_record(names=False)).rows
    assert ("P014", "SC-0141", "unmapped-ids", "ids the plan's map does not know: X9", "day.xml") in faults
    assert any(row[:3] == ("", "HS-9", "not-in-the-roster") for row in faults)


def test_without_logs_the_tables_are_empty() -> None:
    bare = make_record(kept(a_day()), Choice())
    assert device_logs(bare).rows == device_log_faults(bare).rows == ()
