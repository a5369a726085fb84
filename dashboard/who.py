"""Who looks at this page: the person signed in, and what they may do; asked anew at every run of a page."""

import streamlit as st

from county.domain.people import SignedIn
from county.domain.roles import Deed, Page, may, sees
from dashboard import feed
from dashboard.markup import tag, text

USER_KEY = "session"
_GONE = "You are signed out of this board."
_OF_AN_ARCHIVE = frozenset({Deed.EXPORT})
_WRITES = frozenset({Page.CALL, Page.SET_UP})
"""What can be done with an archive, and the pages that are there to write; whoever is to read it, `people add` adds."""


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


def in_an_archive() -> bool:
    """Whether this board shows the archive of an election, to which nothing is added."""
    return feed.current().office.archive is not None


def may_do(deed: Deed) -> bool:
    """Whether the person behind this page may do it."""
    return may(person().role, deed) and (deed in _OF_AN_ARCHIVE or not in_an_archive())


def may_see(page: Page) -> bool:
    """Whether the person behind this page is shown that page."""
    return sees(person().role, page) and not (page in _WRITES and in_an_archive())


def written_under() -> None:
    """Under whose name what is done here is written down."""
    st.html(tag("p", text("Written down under "), tag("b", text(name())), text("."), cls="pr-note"))


def only_looks(deed: Deed) -> None:
    """Why nothing can be done here."""
    here = person()
    says = f"{here.name} is here as {here.role} and may not {deed}."
    if in_an_archive():
        says = "This is the archive of an election: it is only read."
    st.html(tag("p", text(says), cls="pr-note"))
