"""The pages and the way between them; each person is shown those that are for their role."""

from pathlib import Path

import streamlit as st

from county.domain.roles import Page, first_page
from dashboard import not_for_you, who

HERE = Path(__file__).parent
PAGES = HERE / "pages_"

st.set_page_config(page_title="Pollrise", page_icon=str(HERE / "icon.png"), layout="wide")
st.html(HERE / "look.css")

# a page: its row in the table of roles, its file, its name
ROWS = (
    (Page.COUNTY, "county.py", "County"),
    (Page.EXCEPTIONS, "exceptions.py", "Exceptions"),
    (Page.PLACE, "place.py", "Place"),
    (Page.CALL, "call.py", "Take a call"),
    (Page.ROVERS, "rovers.py", "Rovers"),
    (Page.MESSAGES, "messages.py", "Messages"),
    (Page.LINES, "lines.py", "Lines and ballots"),
    (Page.CLOSING, "closing.py", "Closing"),
    (Page.SET_ASIDE, "set_aside.py", "Set aside"),
    (Page.SET_UP, "set_up.py", "Set-up"),
    (Page.REVIEW, "review.py", "Review"),
)
role = who.person().role
first = first_page(role)
st.navigation(
    [
        st.Page(PAGES / file, title=title, url_path=page.value, default=page is first)
        if who.may_see(page)
        else st.Page(
            not_for_you.instead_of(page, title),
            title=title,
            url_path=page.value,
            default=page is first,
            visibility="hidden",
        )
        for page, file, title in ROWS
    ],
    position="top",
).run()
