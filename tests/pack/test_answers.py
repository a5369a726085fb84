"""The answers that lead a place's day, in their words."""

from dataclasses import replace

from county.domain.entries import Entry
from county.pack.printed.answers import answers
from tests.builders import a_step, after, an_action, an_interruption, the_end
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
