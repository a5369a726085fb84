"""People sign in to the board and out of it; each session is a row that can be ended at any moment."""

from datetime import datetime

from county.domain.passwords import LONGEST, must_do
from county.domain.people import Account, SignedIn, known_form
from county.errors import NotAllowed
from county.person_facts import REAL, person_fact
from county.session_ends import Why, end_session, end_sessions, lapsed
from county.store import ledger, people, sessions, sign_in_log
from county.store.engine import reading, writing
from county.store.password_hashes import hashed, is_right
from county.store.sign_in_log import FailedSignIn
from county.wiring import Office

BY_PASSWORD, BY_PROVIDER = "password", "provider"


class WrongPassword(NotAllowed):
    """No such name, or not its password, or an account that has ended; which of them is not said."""


def mark_of(token: str) -> str:
    """The mark under which the session with this token is kept."""
    return sessions.mark_of(token)


def check_password(office: Office, name: str, password: str) -> Account:
    """The account of this name and password. Takes as long for nobody's name. Raises WrongPassword."""
    with reading(office.engine) as connection:
        account = people.named(connection, name)
        kept = people.password_of(connection, account.name) if account else ""
    right = is_right(password[: 4 * LONGEST], kept)
    if not right or account is None or account.ended_at:
        raise WrongPassword("That name and password do not go together.")
    return account


def account_known_as(office: Office, subject: str) -> Account | None:
    """Whom the county's provider means; None where nobody is known so, or their account has ended."""
    with reading(office.engine) as connection:
        account = people.known_as(connection, known_form(subject))
    return account if account and not account.ended_at else None


def begin_session(office: Office, account: Account, how: str, instead_of: str = "") -> str:
    """A new session for a person who has shown who they are; its token. The one with this mark before it ends.

    A first password that was never used is good no more once its person comes by the county's provider.
    """
    with writing(office.engine) as connection:
        if how == BY_PROVIDER and account.must_change:
            people.change(connection, account.name, password="", must_change=False)
        before = sessions.find(connection, instead_of) if instead_of else None
        if before:
            end_session(office, connection, before.signed_in, Why.ANEW)
        token = sessions.begin(connection, account.name, REAL.now())
        fact = person_fact(office, account.name, "signed-in", by=account.name, role=account.role, how=how)
        ledger.append(connection, [fact])
    return token


def session_of(office: Office, session: str, now: datetime | None = None) -> SignedIn | None:
    """Who is behind a session's mark at `now` (real time): None where it has ended, or is over by its age or unused."""
    with reading(office.engine) as connection:
        kept = sessions.find(connection, session)
    if kept is None or kept.ended_at or kept.account_ended:
        return None
    why = lapsed(kept, office.settings.signing, now or REAL.now())
    if why is None:
        return kept.signed_in
    with writing(office.engine) as connection:
        end_session(office, connection, kept.signed_in, why)
    return None


def session_used(office: Office, session: str) -> None:
    """Note that the person behind a session did something."""
    with writing(office.engine) as connection:
        sessions.used(connection, session, REAL.now())


def sign_out(office: Office, signed_in: SignedIn) -> None:
    """End a person's session."""
    with writing(office.engine) as connection:
        end_session(office, connection, signed_in, Why.OUT)


def end_lapsed(office: Office) -> int:
    """End the sessions that are over by age or unused, so that the record says who is there; how many there were."""
    now = REAL.now()
    with writing(office.engine) as connection:
        over = [(kept, lapsed(kept, office.settings.signing, now)) for kept in sessions.lasting(connection)]
        for kept, why in over:
            if why:
                end_session(office, connection, kept.signed_in, why)
    return sum(why is not None for _, why in over)


def change_password(office: Office, signed_in: SignedIn, former: str, new: str) -> str:
    """Give a person another password, end their sessions, and begin one: its token.

    Raises WrongPassword where the former one is wrong, Refused where the new one will not do.
    """
    account = check_password(office, signed_in.name, former)
    must_do(new, account.name, former)
    kept = hashed(new)
    with writing(office.engine) as connection:
        people.change(connection, account.name, password=kept, must_change=False)
        ledger.append(connection, [person_fact(office, account.name, "password-changed", by=account.name)])
        end_sessions(office, connection, account.name, Why.PASSWORD)
    return begin_session(office, account, BY_PASSWORD)


def sign_in_failed(office: Office, name: str, address: str, why: str) -> None:
    """Write down a try that failed; a name that is nobody's is left out, because people type their password there."""
    with writing(office.engine) as connection:
        account = people.named(connection, name)
        if account is None or account.ended_at:
            why = "the account has ended" if account else "nobody of that name"
        sign_in_log.put(connection, FailedSignIn(REAL.now(), account.name if account else "", address, why))


def sign_in_refused(office: Office, address: str, why: str) -> None:
    """Write down that the county's provider's word was not taken; whom it spoke of is not written down."""
    with writing(office.engine) as connection:
        sign_in_log.put(connection, FailedSignIn(REAL.now(), "", address, why))


def failed_sign_ins(office: Office, limit: int = 100) -> list[FailedSignIn]:
    """The tries that failed, newest first."""
    with reading(office.engine) as connection:
        return list(sign_in_log.latest(connection, limit))


def signing_key(office: Office) -> str:
    """What the board signs its cookies and forms with, the same at every start."""
    with writing(office.engine) as connection:
        return sign_in_log.signing_key(connection)
