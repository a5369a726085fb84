"""Which place a form is about: by its number or part of its name, told while it is typed; nothing is guessed."""

from collections.abc import Callable
from dataclasses import dataclass

import streamlit as st

from county.domain.place_search import FoundPlace, find_places, meant
from county.domain.roster import Place
from dashboard import shown, words
from dashboard.board_now import Board
from dashboard.draft import Draft
from dashboard.markup import tag, text

LABEL = "Place: its number, or part of its name"
_NONE = "No place is like that. Try its number, or a word of its name or address."


@dataclass(frozen=True, slots=True)
class PlaceSought:
    """The fields `search` and `place` of a form's draft; `token` tells one filling-in of the form from the next."""

    draft: Draft
    token: Callable[[], str]

    @property
    def typing(self) -> str:
        """The key under which what is typed is told."""
        return f"{self.draft.page}-typing"

    def search(self) -> str:
        """What stands in the field for the place, also while it is typed."""
        typed = shown.typed(self.typing, self.token())
        return str(st.session_state.get(self.draft.widget("search")) or "") if typed is None else typed

    def found(self, board: Board) -> tuple[FoundPlace, ...]:
        """The places that may be meant by what is typed; looked for once, not with every newer board."""
        said, name = self.search(), f"{self.draft.page}-found"
        held = st.session_state.get(name)
        if held is None or held[0] != said or held[1] is not board.roster:
            held = st.session_state[name] = (said, board.roster, find_places(said, board.roster))
        looked: tuple[FoundPlace, ...] = held[2]
        return looked

    def place(self, board: Board) -> str:
        """The place that is meant, by its id; empty while nobody has chosen one of several."""
        may_be = self.found(board)
        one = meant(may_be)
        if one is not None:
            return one.place
        chosen = st.session_state.get(self.draft.widget("place"))
        return str(chosen) if any(chosen == each.place.place for each in may_be) else ""

    def ask(self, board: Board) -> None:
        """The field, and the places to choose from where several may be meant."""
        st.text_input(LABEL, key=self.draft.widget("search"), max_chars=80)
        found, widget = self.found(board), self.draft.widget("place")
        if not found and self.search():
            st.html(tag("p", text(_NONE), cls="pr-warn"))
        if meant(found) or not found:
            return
        names = {each.place.place: one_of(each.place) for each in found}
        # set at every redraw, it would undo what a person chose meanwhile
        if st.session_state.get(widget) not in (None, *names):
            st.session_state[widget] = None
        st.radio(
            "Which of these?", list(names), index=None, format_func=lambda place: names.get(place, place), key=widget
        )

    def listen(self, within: str, *, focus: bool = True) -> None:
        """Tell what is typed in the container with this class; put the cursor there for each new filling-in."""
        shown.while_typing(key=self.typing, within=within, token=self.token())
        if focus:
            shown.first_field(key=f"{self.draft.page}-first", within=within, token=self.token())


def one_of(place: Place) -> str:
    """A place to choose from several."""
    return words.commas([f"{place.name} ({place.place})", place.address, place.city])
