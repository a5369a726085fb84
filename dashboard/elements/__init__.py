"""Elements of our own, each a small script beside this file; everything they show comes in as data."""

from pathlib import Path

import streamlit as st
from streamlit.components.v2.types import ComponentRenderer

_HERE = Path(__file__).parent


def element(name: str) -> ComponentRenderer:
    """The element whose script (and page, if it has one) lies in this folder under this name."""
    page = _HERE / f"{name}.html"
    return st.components.v2.component(
        f"pollrise_{name}",
        html=page.read_text(encoding="utf-8") if page.is_file() else "<div></div>",
        js=(_HERE / f"{name}.js").read_text(encoding="utf-8"),
        # one stylesheet, look.css, for the page and its elements alike
        isolate_styles=False,
    )
