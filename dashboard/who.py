"""Who looks at this page: the person signed in, and what they may do; asked anew at every run of a page."""

import streamlit as st

from county.domain.people import SignedIn
from county.domain.roles import Deed, Page, may, sees
from dashboard import feed
from dashboard.markup import tag, text

USER_KEY = "session"
_GONE = "You are signed out of this board."


def session_mark() -> str:
    """The mark of the session behind this page, as the guard at the door wrote it; empty where there is none."""
    return str(st.user.get(USER_KEY) or "")


def signed_in() -> SignedIn | None:
    """The person behind this page at this moment; None once they are signed out or revoked."""
    return feed.current().people.of(session_mark())


def person() -> SignedIn:
    """The person behind this page; where there is none any more, the page says so and goes no further."""
    found = signed_in()
    if found is None:
        st.html(tag("p", tag("b", text(_GONE)), text(" "), tag("a", text("Sign in"), href="/sign-in", target="_self")))
        st.stop()
    return found


def name() -> str:
    """Under whose name things are written down."""
    return person().name


def may_do(deed: Deed) -> bool:
    """Whether the person behind this page may do it."""
    return may(person().role, deed)


def may_see(page: Page) -> bool:
    """Whether the person behind this page is shown that page."""
    return sees(person().role, page)


def written_under() -> None:
    """Under whose name what is done here is written down."""
    st.html(tag("p", text("Written down under "), tag("b", text(name())), text("."), cls="pr-note"))


def only_looks(deed: Deed) -> None:
    """Why nothing can be done here."""
    here = person()
    st.html(tag("p", text(f"{here.name} is here as {here.role} and may not {deed}."), cls="pr-note"))
