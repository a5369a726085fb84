"""People signed in for a test: accounts and sessions of their own, made as the board makes them."""

from collections.abc import Iterator
from contextlib import contextmanager
from unittest.mock import patch

from starlette.responses import Response

from county import signing_in, staffing
from county.domain.people import Account, Person, Role, same_name
from county.wiring import Office
from dashboard import who
from dashboard.people_now import PeopleNow
from dashboard.sign_in.door import Door, door_of

ANN = Person("Ann Lee", Role.LEAD)


def an_account(office: Office, name: str = ANN.name, role: Role = ANN.role) -> Account:
    """The account of this name, made where there is none, in this role and with its password its own."""
    if not any(same_name(each.name, name) for each in staffing.accounts(office)):
        staffing.add_person(office, Person(name, role), must_change=False)
    return next(each for each in staffing.accounts(office) if same_name(each.name, name))


def a_session(office: Office, name: str = ANN.name, role: Role = ANN.role) -> str:
    """A session of this person; its token."""
    return signing_in.begin_session(office, an_account(office, name, role), signing_in.BY_PASSWORD)


def cookie_of(office: Office, name: str = ANN.name, role: Role = ANN.role) -> tuple[str, str]:
    """The cookie of a new session of this person, as the board gives it: its name and value."""
    return the_cookie(door_of(office, PeopleNow(office)), a_session(office, name, role), name)


def the_cookie(door: Door, token: str, name: str) -> tuple[str, str]:
    """The cookie that a door gives for a session's token: its name and value."""
    response = Response()
    door.counter.cookies.give_session(response, token, name)
    (session,) = [each for each in response.headers.getlist("set-cookie") if "_session_" in each]
    cookie, _, value = session.partition(";")[0].partition("=")
    return cookie, value


@contextmanager
def looked_at_by(office: Office, name: str = ANN.name, role: Role = ANN.role) -> Iterator[None]:
    """Pages drawn in Streamlit's test harness are looked at by this person as long as this lasts."""
    mark = signing_in.mark_of(a_session(office, name, role))
    with patch.object(who, "session_mark", lambda: mark):
        yield
