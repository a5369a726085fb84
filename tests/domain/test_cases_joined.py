"""Which reports are one case and which are another, and what the cases are called."""

from dataclasses import replace

from county.domain.cases import State
from county.domain.effects import Effect
from county.domain.entries import Entry
from county.domain.roster import Device
from tests.builders import (
    a_roster,
    a_step,
    after,
    an_action,
    an_exception,
    an_interruption,
    before,
    raised,
    the_end,
)
from tests.looking import the_case, the_cases

JAM = an_exception("scanner-jam", after(60), device="SC-0141")
NAME = "P014.scanner-jam.SC-0141"
ACKNOWLEDGED = an_action(NAME, "acknowledge", after(61))
CLEARED = an_action(NAME, "clear", after(75), note="cleaned")


def jam(minutes: float, received: float | None = None, **more: object) -> Entry:
    received_at = None if received is None else after(received)
    return an_exception("scanner-jam", after(minutes), device="SC-0141", received_at=received_at, **more)


def test_several_reports_of_one_trouble_join_one_case() -> None:
    again = jam(65, effect="stopped", note="third time")
    cases = the_cases(JAM, again, ACKNOWLEDGED)
    assert cases.keys() == {NAME}
    assert cases[NAME].reports == (JAM.key, again.key)
    assert cases[NAME].effect is Effect.STOPPED
    assert cases[NAME].says == "Scanner jam; Scanner jam: third time"
    assert cases[NAME].state is State.ACKNOWLEDGED


def test_a_second_trouble_is_a_second_case() -> None:
    again = jam(100)
    cases = the_cases(JAM, CLEARED, again)
    assert {name: case.state for name, case in cases.items()} == {NAME: State.CLEARED, f"{NAME}.2": State.RAISED}
    assert cases[f"{NAME}.2"].reports == (again.key,)


def test_each_case_has_its_own_deeds() -> None:
    again, cleared = jam(100), an_action(f"{NAME}.2", "clear", after(110))
    third = jam(120)
    cases = the_cases(JAM, CLEARED, again, cleared, third)
    assert [cases[name].cleared_at for name in (NAME, f"{NAME}.2", f"{NAME}.3")] == [after(75), after(110), None]


def test_another_device_another_kind_and_the_place_itself_are_cases_of_their_own() -> None:
    names = the_cases(
        JAM,
        an_exception("scanner-jam", after(61), device="SC-0142"),
        an_exception("scanner-jam", after(62)),
        an_exception("scanner-fault", after(63), device="SC-0141"),
        an_exception("scanner-jam", after(64), place="P015"),
    ).keys()
    assert names == {
        NAME,
        "P014.scanner-jam.SC-0142",
        "P014.scanner-jam",
        "P014.scanner-fault.SC-0141",
        "P015.scanner-jam",
    }


def test_a_report_from_before_the_end_that_was_known_by_then_is_part_of_it() -> None:
    assert the_cases(JAM, jam(70, received=71), CLEARED).keys() == {NAME}


def test_a_report_whoever_cleared_the_case_could_not_know_of_is_another_case() -> None:
    late = jam(70, received=90)
    cases = the_cases(JAM, CLEARED, late)
    assert cases[f"{NAME}.2"].state is State.RAISED
    assert cases[NAME].state is State.CLEARED


def test_a_seal_mismatch_sent_late_is_not_hidden_in_a_case_that_was_cleared() -> None:
    def seal(position: str, received: float) -> Entry:
        evidence = {"device": "SC-0141", "seal_position": position, "seal_number": "WRONG"}
        return a_step("seals-checked", before(30), received_at=after(received), **evidence)

    cleared = an_action("P014.seal-mismatch.SC-0141", "clear", before(10))
    cases = the_cases(seal("front", -29), cleared, seal("auxiliary", 5))
    assert {case.state for case in cases.values()} == {State.CLEARED, State.RAISED}


def test_a_late_report_of_an_earlier_trouble_renames_no_case() -> None:
    def outage(begins: float, ends: float | None, received: float) -> list[Entry]:
        begun = an_interruption("stopped", after(begins), exception="no-power", received_at=after(received))
        over = the_end(after(ends or 0), exception="no-power", received_at=after(received + 1))
        return [begun, over] if ends else [begun]

    first, second = outage(60, 70, 61), outage(120, None, 121)
    deeds = [an_action("P014.no-power.2", "assign", after(125), rover="R03")]
    known = the_cases(*first, *second, *deeds)
    assert (known["P014.no-power"].raised_at, known["P014.no-power.2"].raised_at) == (after(60), after(120))
    then = the_cases(*first, *second, *deeds, *outage(10, 20, 200))
    assert (then["P014.no-power"].raised_at, then["P014.no-power.2"].raised_at) == (after(60), after(120))
    assert then["P014.no-power.2"].rover == "R03"
    assert (then["P014.no-power.3"].raised_at, then["P014.no-power.3"].state) == (after(10), State.CLEARED)


def test_the_second_case_of_a_place_never_takes_the_name_of_a_device() -> None:
    roster = a_roster(devices=(Device("2", "P014", "scanner"),))
    entries = [
        an_exception("scanner-jam", after(60)),
        an_action("P014.scanner-jam", "clear", after(70)),
        an_exception("scanner-jam", after(80)),
        an_exception("scanner-jam", after(80), device="2"),
    ]
    cases = the_cases(*entries, roster=roster)
    assert {name: case.device for name, case in cases.items()} == {
        "P014.scanner-jam": "",
        "P014.scanner-jam.2": "2",
        "P014.scanner-jam.3": "",
    }


def test_what_people_did_with_a_case_no_report_shows_any_longer_stays_on_the_board() -> None:
    deeds = [an_action("P014.counter-jump.SC-0141", "assign", after(65), rover="R03")]
    case = the_case("P014.counter-jump.SC-0141", *deeds)
    assert (case.state, case.rover, case.device, case.needs_person) == (State.ASSIGNED, "R03", "SC-0141", True)
    assert case.says == "later reports no longer show this; a person has to end it"
    deeds.append(an_action("P014.counter-jump.SC-0141", "withdraw", after(80)))
    assert the_case("P014.counter-jump.SC-0141", *deeds).state is State.WITHDRAWN


def test_a_case_that_is_left_to_people_was_learned_with_their_first_word() -> None:
    deeds = [an_action("P014.drift", "note", after(70), by="Second desk"), an_action("P014.drift", "assign", after(65))]
    case = the_case("P014.drift", *deeds)
    assert (case.raised_at, case.learned_at, case.raised_by) == (after(65), deeds[1].received_at, "Front desk")


def test_a_report_learned_as_the_case_was_cleared_is_part_of_it() -> None:
    assert the_cases(JAM, jam(70, received=90), an_action(NAME, "clear", after(75), received_at=after(90))).keys() == {
        NAME
    }


def test_a_report_learned_after_a_case_was_reopened_joins_it() -> None:
    reopened = an_action(NAME, "reopen", after(80))
    assert the_cases(JAM, CLEARED, reopened, jam(85)).keys() == {NAME}


def test_what_was_over_when_the_other_began_is_another_case_whichever_was_learned_first() -> None:
    first = [an_interruption("stopped", after(50), exception="no-power"), the_end(after(60), exception="no-power")]
    again = [an_interruption("stopped", after(60), exception="no-power", key="again")]
    assert len(the_cases(*first, *again)) == 2
    late = [replace(entry, received_at=after(500)) for entry in first]
    assert len(the_cases(*late, *again)) == 2


def test_a_case_was_raised_by_whoever_was_heard_first() -> None:
    early = jam(50, received=90, by="Second phone")
    case = the_case(NAME, JAM, early)
    assert (case.raised_at, case.learned_at, case.raised_by) == (after(50), JAM.received_at, "P014")


def test_what_still_stands_is_said_before_what_is_over_and_the_rest_is_counted() -> None:
    staffed, powered = (a_step(key, before(30)) for key in ("staffed", "powered"))
    overdue = [
        raised("step-overdue", key, before(40))
        for key in ("staffed", "powered", "site-ready", "zero-report", "seals-checked", "setup-confirmed")
    ]
    says = the_case("P014.step-overdue", *overdue, staffed, powered).says
    assert says == "step-overdue: seals-checked; step-overdue: setup-confirmed; step-overdue: site-ready; and 3 more"
