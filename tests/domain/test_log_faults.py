"""A log with every trap planted gives every finding, and a clean one none."""

from dataclasses import replace
from datetime import timedelta
from types import MappingProxyType

import pytest

from county.domain.device_log import LogDevice, LogDocumentation
from county.domain.log_faults import FAULTS, LogFault, log_faults
from county.domain.log_milestones import LogMaps
from tests.builders import OPENS
from tests.domain.logs import DOCUMENTATION, a_device, a_scene, an_event, naive

CLEAN = a_device(("P1", -30), ("Z", -20), ("O", 0), ("C", 780), ("R", 790))
OTHER = LogDocumentation("Harrow", "Harrow S9", DOCUMENTATION.ids)
BARE = LogDocumentation("Harrow", "Harrow S2", MappingProxyType({"O": "opened"}))


def numbered(*sequences: str) -> LogDevice:
    return replace(
        CLEAN, events=tuple(an_event("B", n, sequence, line=n) for n, sequence in enumerate(sequences, start=1))
    )


CASES = {
    "not-in-the-roster": (a_scene(CLEAN, known=""), "no device of the roster has the number or serial SC-0141"),
    "no-events": (a_scene(replace(CLEAN, events=())), "the log has no event of this device"),
    "no-map": (
        a_scene(CLEAN, maps=LogMaps()),
        'the plan has no [[device_log]] for the model "Harrow S2", so none of its events is read',
    ),
    "unmapped-ids": (
        a_scene(a_device(("O", 0), ("X9", 1), ("X9", 2), ("X7", 3)), documentation=None),
        "ids the plan's map does not know: X7, X9 (2)",
    ),
    "undocumented-ids": (a_scene(CLEAN, documentation=BARE), "ids the documentation does not define: C, P1, R, Z"),
    "other-model": (
        a_scene(CLEAN, documentation=OTHER),
        'the log says model "Harrow S2", its documentation "Harrow S9"',
    ),
    "no-documentation": (
        a_scene(CLEAN, documentation=None),
        "no documentation file was given, so what the ids mean rests on the plan's map alone",
    ),
    "sequence-no-number": (a_scene(numbered("1", "two", "3")), "sequence is no number: 'two'"),
    "sequence-repeats": (a_scene(numbered("1", "2", "2", "2", "3")), "sequence repeats: 2 (3 times)"),
    "sequence-gaps": (a_scene(numbered("3", "4", "8", "10")), "sequence has gaps: 1 to 2, 5 to 7, 9"),
    "out-of-order": (
        a_scene(numbered("1", "3", "2")),
        "the events do not stand in the order of their sequence; they are read by its number",
    ),
    "time-backwards": (
        a_scene(a_device(("O", 10), ("B", 11), ("B", 4))),
        "time goes backwards: from 2 to 3 by 7 min",
    ),
    "other-days": (
        a_scene(a_device(("O", -60 * 24 * 5), ("O", 0), ("R", 60 * 24 * 2))),
        "2 events of other days are not compared: 2026-10-29, 2026-11-05",
    ),
    "no-offset": (
        a_scene(replace(CLEAN, events=(an_event("O", at=naive(0)), an_event("C", 780, line=2)))),
        "1 of 2 times have no offset: taken as wall time in America/Chicago",
    ),
}


def test_every_fault_has_its_case() -> None:
    assert set(CASES) == set(FAULTS)


@pytest.mark.parametrize("fault", CASES)
def test_the_fault_is_found(fault: str) -> None:
    scene, says = CASES[fault]
    assert LogFault(fault, "SC-0141", says) in log_faults(scene)


def test_a_clean_log_has_none() -> None:
    assert log_faults(a_scene(CLEAN)) == ()


def test_one_log_with_every_trap_gives_every_finding() -> None:
    events = (
        an_event("X9", 0, "3", line=1, at=naive(0)),
        an_event("O", 5, "2", line=2),
        an_event("B", 5, "2", line=3),
        an_event("B", 4, "nine", line=4),
        an_event("B", -60 * 24 * 3, "7", line=5),
    )
    planted = replace(CLEAN, events=events)
    found = {fault.id for fault in log_faults(a_scene(planted, known="", documentation=replace(OTHER, ids=BARE.ids)))}
    assert found == set(FAULTS) - {"no-events", "no-map", "no-documentation"}


def test_many_names_are_counted_not_listed() -> None:
    many = a_device(*((f"X{n:02d}", n) for n in range(30)))
    says = next(fault.says for fault in log_faults(a_scene(many)) if fault.id == "unmapped-ids")
    assert says == (
        "ids the plan's map does not know: X00, X01, X02, X03, X04, X05, X06, X07, X08, X09, X10, X11 and 18 more"
    )


def test_ten_comes_after_two_and_a_wall_time_is_read_in_the_places_zone() -> None:
    device = replace(
        CLEAN, events=tuple(an_event("B", n, str(seq), line=n) for n, seq in enumerate((1, 10, 2, 3), start=1))
    )
    assert [event.sequence for event in device.in_order()] == ["1", "2", "3", "10"]
    assert an_event("O", at=naive(30)).moment("America/Chicago") == OPENS + timedelta(minutes=30)
    assert an_event("O", at=naive(30)).moment("America/New_York") == OPENS - timedelta(minutes=30)
