"""The answers that lead a place's day, in their words."""

from dataclasses import replace

from county.domain.entries import Entry
from county.pack.printed.answers import answers
from tests.builders import a_step, after, an_action, an_exception, an_interruption, before, raised, the_end
from tests.pack.a_record import a_record

CASE = "P014.no-power"
POWER = (
    a_step("open", after(0)),
    an_interruption("impaired", after(60), exception="no-power"),
    the_end(after(70), exception="no-power"),
)


def what_was_done(*more: Entry) -> str:
    entries = tuple(replace(entry, seq=n) for n, entry in enumerate((*POWER, *more), 1))
    record = a_record(entries=entries)
    return dict(answers(record, record.picture.at("P014", after(120))))["What was done?"]


def test_who_saw_it_and_when() -> None:
    assert "nobody acted on it; ended 07:10" in what_was_done()
    assert "acknowledged 07:05 by person 1; ended 07:10" in what_was_done(an_action(CASE, "acknowledge", after(65)))


def test_who_came_after_it_had_ended_is_said_with_their_time() -> None:
    late = an_action(CASE, "acknowledge", after(80))
    assert "nobody acted on it before it ended, person 1 at 07:20; ended 07:10" in what_was_done(late)


def test_of_a_late_place_what_was_done_with_other_cases_before_it_opened_is_said_beside() -> None:
    told = (
        an_exception("other", before(20), note="the door is locked"),
        an_action("P014.other", "acknowledge", before(15)),
        an_action("P014.other", "assign", before(14), rover="R03"),
        an_action("P014.other", "on-site", before(5), rover="R03"),
        raised("late-opening", "open", after(0), effect="stopped"),
        a_step("open", after(34)),
        an_exception("scanner-jam", after(50), device="SC-0142"),
        an_action("P014.scanner-jam.SC-0142", "acknowledge", after(55)),
    )
    record = a_record(entries=tuple(replace(entry, seq=n) for n, entry in enumerate(told, 1)))
    said = dict(answers(record, record.picture.at("P014", after(120))))
    assert "nobody acted on it; ended 06:34" in said["What was done?"]
    assert said["What was done?"].endswith(
        "Other cases before it opened: Other trouble: acknowledged 05:45, R03 on site 05:55"
    )
    assert said["How long did it take?"] == "from raised, 06:00: ended after 34 min; not told: acknowledged, on site"
