"""The pages and the way between them."""

from pathlib import Path

import streamlit as st

HERE = Path(__file__).parent
PAGES = HERE / "pages_"

st.set_page_config(page_title="Pollrise", page_icon=str(HERE / "icon.png"), layout="wide")
st.html(HERE / "look.css")

page = st.navigation(
    [
        st.Page(PAGES / "county.py", title="County", url_path="county", default=True),
        st.Page(PAGES / "exceptions.py", title="Exceptions", url_path="exceptions"),
        st.Page(PAGES / "place.py", title="Place", url_path="place"),
        st.Page(PAGES / "call.py", title="Take a call", url_path="call"),
        st.Page(PAGES / "set_aside.py", title="Set aside", url_path="set-aside"),
    ],
    position="top",
)
page.run()
