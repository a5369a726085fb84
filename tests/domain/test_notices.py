"""Who was told, when, and whether it arrived: folded from the ledger's facts, and shown with the case."""

from datetime import UTC
from itertools import permutations
from zoneinfo import ZoneInfo

import pytest

from county.domain.entries import Entry
from county.domain.notices import Fact, notices_of
from county.domain.picture import known
from tests.builders import after, an_exception
from tests.looking import a_picture, the_case
from tests.told import a_ladder, a_notice_fact, a_rung

JAM = an_exception("scanner-jam", after(60), device="SC-0141")
NAME = "P014.scanner-jam.SC-0141"
ZONE = ZoneInfo("America/Chicago")
PLAN = a_ladder(a_rung(0))
WHOM = {"case": NAME, "telling": "tell-1", "role": "custodian", "person": "Ada Rill", "channel": "e-mail"}
OWED = a_notice_fact(Fact.OWED, "n1", after(60), received_at=after(61), late=False, **WHOM)
FAILED = a_notice_fact(Fact.FAILED, "n1", after(70), case=NAME)
ARRIVED = a_notice_fact(Fact.ARRIVED, "n1", after(62), case=NAME)
NOBODY = a_notice_fact(Fact.NOBODY, "n2", after(60), received_at=after(63), case=NAME, telling="tell-1", role="counsel")


def told(*facts: Entry) -> tuple[str, ...]:
    """What the case says, whatever the order in which the facts are learned."""
    first, *others = [the_case(NAME, JAM, *order, plan=PLAN).told for order in permutations(facts)]
    assert all(other == first for other in others)
    return first


@pytest.mark.parametrize(
    ("facts", "says"),
    [
        ((), ()),
        ((OWED,), ("custodian (Ada Rill) by e-mail 07:01, on its way",)),
        ((OWED, ARRIVED), ("custodian (Ada Rill) by e-mail 07:02, arrived",)),
        ((OWED, FAILED), ("custodian (Ada Rill) by e-mail 07:10, did not arrive",)),
        ((OWED, FAILED, ARRIVED), ("custodian (Ada Rill) by e-mail 07:02, arrived",)),
        ((ARRIVED,), ()),
        ((NOBODY,), ("nobody on shift for counsel 07:03",)),
        (
            (NOBODY, OWED, ARRIVED),
            ("custodian (Ada Rill) by e-mail 07:02, arrived", "nobody on shift for counsel 07:03"),
        ),
    ],
)
def test_a_case_says_who_was_told_when_and_whether_it_arrived(facts: tuple[Entry, ...], says: tuple[str, ...]) -> None:
    assert told(*facts) == says


def test_a_rung_that_names_a_person_shows_the_name_once() -> None:
    by_name = a_notice_fact(Fact.OWED, "n1", after(60), **(WHOM | {"role": "Ada Rill"}))
    assert told(by_name) == ("Ada Rill by e-mail 07:00, on its way",)


def test_what_was_told_late_says_when_it_was_due() -> None:
    late = a_notice_fact(Fact.OWED, "n1", after(60), received_at=after(95), late=True, **WHOM)
    assert told(late) == ("custodian (Ada Rill) by e-mail 07:35, on its way (late: due 07:00)",)


def test_who_knew_when_can_be_asked_of_any_moment() -> None:
    entries = [JAM, OWED, ARRIVED]
    assert [
        a_picture(*known(entries, after(minutes)), plan=PLAN).cases()[0].told for minutes in (60.5, 61.5, 62.5)
    ] == [
        (),
        ("custodian (Ada Rill) by e-mail 07:01, on its way",),
        ("custodian (Ada Rill) by e-mail 07:02, arrived",),
    ]


def test_a_notice_is_no_sign_of_life_from_the_place_and_raises_nothing() -> None:
    alone, with_facts = a_picture(plan=PLAN), a_picture(OWED, ARRIVED, NOBODY, plan=PLAN)
    assert with_facts.places["P014"].day.heard == ()
    assert with_facts.cases() == alone.cases() == ()
    assert with_facts.totals(after(90)) == alone.totals(after(90))


def test_a_fact_nobody_knows_is_left_out() -> None:
    odd = a_notice_fact("hoped", "n1", after(60), case=NAME)
    assert notices_of([odd, OWED]) == notices_of([OWED])
    assert notices_of([OWED])[0].says(ZoneInfo("UTC")) == "custodian (Ada Rill) by e-mail 13:01, on its way"
    assert notices_of([OWED])[0].due_at.tzinfo is UTC
