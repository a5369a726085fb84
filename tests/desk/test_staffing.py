"""Who works at the office: each change holds at once, is a fact of the ledger, and never leaves nobody in charge."""

from functools import partial

import pytest

from county import desk, signing_in, staffing
from county.domain.people import Account, Person, Role
from county.errors import NotAllowed, NotFound, Refused
from county.signing_in import BY_PASSWORD, WrongPassword
from county.wiring import Office

ANN, BO = Person("Ann Lee", Role.LEAD), Person("Bo Tran", Role.DESK)


def facts(office: Office) -> list[tuple[object, object, object]]:
    """What the ledger holds about people: who, what, and by whom."""
    return [(page["person"], page["did"], page["by"]) for page in desk.ledger_pages(office) if page["kind"] == "person"]


def held(office: Office, name: str) -> Account:
    return next(each for each in staffing.accounts(office) if each.name == name)


def a_session(office: Office, name: str) -> str:
    """A session of theirs; its mark."""
    return signing_in.mark_of(signing_in.begin_session(office, held(office, name), BY_PASSWORD))


def test_a_person_is_added_once_with_a_first_password_that_must_be_changed(office: Office) -> None:
    password = staffing.add_person(office, ANN)
    assert len(password) >= 25
    assert signing_in.check_password(office, "ann  lee", password).must_change
    assert staffing.add_person(office, ANN) == ""
    with pytest.raises(Refused, match="Ann Lee is there already, as lead"):
        staffing.add_person(office, Person("ANN LEE", Role.DESK))
    assert staffing.everyone(office) == (ANN,)
    assert facts(office) == [("Ann Lee", "added", "the office")]


def test_a_password_is_kept_as_a_hash_alone(office: Office) -> None:
    password = staffing.add_person(office, ANN)
    with office.engine.connect() as connection:
        raw = connection.exec_driver_sql("SELECT * FROM people").mappings().one()
    assert raw["password"].startswith("$argon2id$v=19$m=19456,t=2,p=1$")
    assert password not in str(dict(raw))


def test_a_new_first_password_signs_its_person_out_everywhere(office: Office) -> None:
    before = staffing.add_person(office, ANN, must_change=False)
    sessions = [a_session(office, "Ann Lee") for _ in range(2)]
    after = staffing.reset_password(office, "Ann Lee", by="Ann Lee")
    assert [signing_in.session_of(office, each) for each in sessions] == [None, None]
    with pytest.raises(WrongPassword):
        signing_in.check_password(office, "Ann Lee", before)
    assert signing_in.check_password(office, "Ann Lee", after).must_change
    with pytest.raises(NotFound, match="nobody called Nobody"):
        staffing.reset_password(office, "Nobody")


def test_a_changed_role_holds_at_once_where_its_person_is_signed_in(office: Office) -> None:
    staffing.add_person(office, ANN)
    staffing.add_person(office, BO)
    session = a_session(office, "Bo Tran")
    assert staffing.change_role(office, "Bo Tran", Role.VIEWER, by="Ann Lee")
    assert not staffing.change_role(office, "Bo Tran", Role.VIEWER)
    found = signing_in.session_of(office, session)
    assert found is not None
    assert found.role is Role.VIEWER
    assert facts(office)[-1] == ("Bo Tran", "role-changed", "Ann Lee")


def test_an_account_that_has_ended_signs_nobody_in_and_can_be_taken_back(office: Office) -> None:
    staffing.add_person(office, ANN)
    password = staffing.add_person(office, BO)
    session = a_session(office, "Bo Tran")
    assert staffing.end_account(office, "Bo Tran")
    assert not staffing.end_account(office, "Bo Tran")
    assert signing_in.session_of(office, session) is None
    with pytest.raises(WrongPassword):
        signing_in.check_password(office, "Bo Tran", password)
    with pytest.raises(Refused, match="has ended"):
        staffing.add_person(office, BO)
    assert staffing.everyone(office) == (ANN,)
    again = staffing.reset_password(office, "Bo Tran")
    assert signing_in.check_password(office, "Bo Tran", again).ended_at is None
    assert [did for person, did, _ in facts(office) if person == "Bo Tran"] == [
        "added",
        "signed-in",
        "ended",
        "signed-out",
        "taken-back",
    ]


def test_the_only_lead_stays_one(office: Office) -> None:
    staffing.add_person(office, ANN)
    staffing.add_person(office, BO)
    with pytest.raises(Refused, match="only lead"):
        staffing.end_account(office, "Ann Lee")
    with pytest.raises(Refused, match="only lead"):
        staffing.change_role(office, "Ann Lee", Role.DESK)
    staffing.change_role(office, "Bo Tran", Role.LEAD)
    assert staffing.end_account(office, "Ann Lee")


def test_everybody_is_known_to_the_provider_by_a_name_of_their_own(office: Office) -> None:
    staffing.add_person(office, ANN, known_as="ann@county.example")
    staffing.add_person(office, BO)
    with pytest.raises(Refused, match="Ann Lee is known so already"):
        staffing.call_by(office, "Bo Tran", "ann@county.example")
    found = signing_in.account_known_as(office, "ANN@county.example")
    assert found is not None
    assert found.name == "Ann Lee"
    assert signing_in.account_known_as(office, "") is None
    assert signing_in.account_known_as(office, "stranger@county.example") is None


def test_only_a_lead_looks_after_people(office: Office) -> None:
    staffing.add_person(office, ANN)
    staffing.add_person(office, BO)
    before = facts(office)
    for by in ("Bo Tran", "Nobody"):
        for deed in (
            partial(staffing.add_person, office, Person("Cy Day", Role.LEAD)),
            partial(staffing.change_role, office, "Bo Tran", Role.LEAD),
            partial(staffing.reset_password, office, "Ann Lee"),
            partial(staffing.end_account, office, "Ann Lee"),
            partial(staffing.sign_out_everywhere, office, "Ann Lee"),
            partial(staffing.call_by, office, "Bo Tran", "ann@county.example"),
        ):
            with pytest.raises(NotAllowed):
                deed(by=by)
    assert facts(office) == before
    assert staffing.add_person(office, Person("Cy Day", Role.DESK), by="Ann Lee")
