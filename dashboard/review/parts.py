"""The parts of the page of review, and which one was chosen; kept in the address, so that it outlives a reload."""

from collections.abc import Mapping
from types import MappingProxyType

import streamlit as st

PARTS: Mapping[str, str] = MappingProxyType(
    {
        "day": "The day",
        "place": "One place",
        "response": "Response times",
        "late": "Late openings",
        "lost": "Time lost",
        "silences": "Silences",
        "kinds": "Exceptions by kind",
        "forecasts": "Forecasts",
        "rovers": "Rovers",
        "logs": "Devices' logs",
        "earlier": "An earlier election",
        "pack": "The pack",
    }
)


def chosen_part() -> str:
    """The part in the address; the day where it names none."""
    said = st.query_params.get("part", "day")
    return said if said in PARTS else "day"


def choose_part() -> None:
    """The chooser; it stands outside what is redrawn."""
    part = chosen_part()
    st.segmented_control(
        "Part of the record",
        list(PARTS),
        default=part,
        format_func=PARTS.__getitem__,
        key=f"part-{part}",
        on_change=_choose,
        args=(f"part-{part}",),
        label_visibility="collapsed",
    )


def _choose(key: str) -> None:
    # choosing the part that is shown takes it away, which means nothing here
    st.query_params["part"] = st.session_state[key] or chosen_part()
