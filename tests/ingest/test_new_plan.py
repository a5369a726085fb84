"""A new version of the plan while the endpoint runs: it goes by it from then on, and the past stays what it was."""

from datetime import datetime

from county import plans
from county.domain.intake import Hand
from county.domain.moments import parse_moment
from county.domain.plan import Contact
from county.plans import take_up_file
from ingest.clock_loop import turn
from ingest.notice_loop import Sender
from tests.an_office import PLAN_TEXT
from tests.ingest.an_office import House, a_report

DOORS = '\n[[step]]\nkey = "doors"\nsays = "Doors unlocked"\ndue = "-5m"\n'
LATER_HOURS = PLAN_TEXT.replace('opens = "06:00"', 'opens = "08:00"')
PERSON = '\n[[person]]\nname = "Bo Fenn"\nroles = ["lead"]\n'


def wall(clock: str) -> datetime:
    moment = parse_moment(f"2026-11-03T{clock}:00-06:00")
    assert moment is not None
    return moment


def made_at(house: House, text: str, clock: str) -> None:
    """A new version, received at this wall time."""
    hand = Hand("desk:Ann", "Ann", "board", wall(clock))
    plans.save(house.office, text, hand, based_on=plans.standing(house.office).number, sure=True)


def test_a_step_that_was_added_is_taken_without_a_restart(house: House) -> None:
    doors = a_report(key="d-1", step="doors", device=None, public_counter=None, protective_counter=None)
    doors = {name: value for name, value in doors.items() if name not in ("copies", "signers")}
    assert house.post(doors).status == 422
    made_at(house, PLAN_TEXT + DOORS, "05:50")
    assert house.post(doors).status == 201


def test_a_picture_as_known_goes_by_the_plan_of_then_and_as_happened_by_todays(house: House) -> None:
    take_up_file(house.office)
    house.post(a_report())
    made_at(house, LATER_HOURS, "07:30")

    def standing(query: str) -> object:
        return house.get(f"/picture?{query}&place=P014").body["places"][0]["standing"]

    at_seven, at_twenty_to_eight = "at=2026-11-03T07:00:00-06:00", "at=2026-11-03T07:40:00-06:00"
    assert standing(f"{at_seven}&view=known") == "late"
    assert standing(f"{at_twenty_to_eight}&view=known") == "preparing"
    assert standing(f"{at_seven}&view=happened") == "preparing"


def test_the_clock_and_the_notices_go_by_the_new_plan_too(house: House) -> None:
    made_at(house, PLAN_TEXT.replace('due = "-30m"', 'due = "-60m"') + PERSON, "05:44")
    assert turn(house.office, house.following) > 0
    overdue = [entry for entry in house.ledger() if entry.get("exception") == "step-overdue"]
    assert "2026-11-03T11:05:00Z" in {entry["happened_at"] for entry in overdue}
    assert house.following.office.plan.people == (Contact("Bo Fenn", ("lead",)),)
    assert Sender(house.office, following=house.following).turn() == 0
