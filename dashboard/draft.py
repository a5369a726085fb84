"""What is being written on a page: its widgets, and what they held while another page was looked at."""

from dataclasses import dataclass

import streamlit as st


@dataclass(frozen=True, slots=True)
class Draft:
    """The fields of one page's form; `page` is a word of its own."""

    page: str
    fields: tuple[str, ...]

    def widget(self, name: str) -> str:
        """The key of a field's widget."""
        return f"{self.page}-{name}"

    def bring_back(self) -> None:
        """Give each widget what was typed before another page was looked at."""
        draft = st.session_state.setdefault(self.page, {})
        for name in self.fields:
            if self.widget(name) not in st.session_state and name in draft:
                st.session_state[self.widget(name)] = draft[name]

    def keep_typed(self) -> None:
        """Remember what the widgets hold; Streamlit forgets it when another page is shown."""
        st.session_state[self.page] = {
            name: st.session_state[self.widget(name)] for name in self.fields if self.widget(name) in st.session_state
        }
