"""The pack's table of custody: what was told at both ends, by role, and empty where nobody told."""

from dataclasses import replace
from datetime import timedelta

from county.pack.record import Choice, make_record
from county.pack.subjects.custody import chain_of_custody
from county.pack.table import Cell
from tests.builders import CLOSES, a_step
from tests.custody import EVERYTHING, a_plan_with_items, all_but
from tests.pack.a_record import kept, the_plan, the_roster

LEFT, BACK = CLOSES + timedelta(hours=1), CLOSES + timedelta(minutes=95)
PAIR = ("officer in charge", "rover")
DAY = (
    a_step("departed", LEFT, items=EVERYTHING, roles=PAIR),
    a_step("departed", LEFT, item="used-ballots", seal_number="55"),
    a_step("departed", LEFT, device="SC-0141", seal_position="front", seal_number="770001"),
    a_step("received", BACK, items=all_but("keys"), roles=("receiving clerk", "desk lead")),
    a_step("received", BACK, item="used-ballots", seal_number="56"),
    a_step("departed", LEFT, place="P015"),
)


def rows(choice: Choice) -> dict[Cell, dict[str, Cell]]:
    plan = replace(a_plan_with_items(), people=the_plan().people)
    entries = [replace(entry, seq=number) for number, entry in enumerate(DAY, 1)]
    table = chain_of_custody(make_record(kept(entries, plan, the_roster()), choice))
    names = [column.name for column in table.columns]
    return {row[0]: dict(zip(names, row, strict=True)) for row in table.rows}


def test_both_ends_stand_in_one_row_and_what_nobody_told_is_empty() -> None:
    for choice in (Choice(), Choice(names=True)):
        found = rows(choice)
        one = found["P014"]
        assert (one["left_at"], one["received_at"], one["minutes"]) == (LEFT, BACK, 35)
        assert (one["carried_by"], one["received_by"]) == ("officer in charge, rover", "receiving clerk, desk lead")
        assert one["items_missing"] == "Keys"
        assert (one["seals_as_put_on"], one["seals_differing"]) == (0, "used-ballots: another number")
        assert one["seals_not_checked"] == "front of SC-0141"
        assert (found["P015"]["left_at"], found["P015"]["minutes"], found["P015"]["carried_by"]) == (LEFT, None, None)
        assert set(found["P016"].values()) == {"P016", "Court House", None}
