"""A backup brings accounts and passwords back, and signs nobody in."""

from pathlib import Path

from county import signing_in, staffing, upkeep
from county.domain.people import Person, Role
from county.wiring import Office
from tests.an_office import an_office


def test_whoever_was_signed_in_signs_in_anew_after_a_restore(office: Office, tmp_path: Path) -> None:
    password = staffing.add_person(office, Person("Ann Lee", Role.LEAD), must_change=False)
    account = signing_in.check_password(office, "Ann Lee", password)
    mark = signing_in.mark_of(signing_in.begin_session(office, account, signing_in.BY_PASSWORD))
    signing_in.sign_in_failed(office, "Ann Lee", "192.0.2.1", "not the right password")
    key = signing_in.signing_key(office)
    upkeep.backup(office, tmp_path / "copy.db")
    (tmp_path / "other").mkdir()
    with an_office(tmp_path / "other") as other:
        signing_in.signing_key(other)
        upkeep.restore(other, tmp_path / "copy.db")
        assert signing_in.session_of(other, mark) is None
        assert signing_in.check_password(other, "Ann Lee", password).role is Role.LEAD
        assert signing_in.signing_key(other) == key
        assert [each.person for each in signing_in.failed_sign_ins(other)] == ["Ann Lee"]
    assert signing_in.session_of(office, mark) is not None
