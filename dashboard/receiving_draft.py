"""What is ticked and typed at this desk of what came back: each place has fields of its own, so nothing goes astray."""

import secrets
from collections.abc import Iterator
from types import MappingProxyType

import streamlit as st

from county.domain.closing import PlaceClosing, closing_of
from county.domain.custody import SealState
from county.domain.receiving import Receiving, SealAsked, SealRead, differing, not_ticked, seals_to_read
from dashboard.board_now import Board
from dashboard.draft import Draft
from dashboard.place_sought import PlaceSought

WHO = ("reads", "types")
"""The fields of the roles of the two who take it in; they stay from one place to the next."""
DRAFT = Draft("receiving", ("search", "place", "note", *WHO))
KEY = "receiving-key"
widget = DRAFT.widget


def key() -> str:
    """This receiving's own key: the same until it is written down, so that a double click is one."""
    held: str = st.session_state.setdefault(KEY, f"board-{secrets.token_hex(12)}")
    return held


SOUGHT = PlaceSought(DRAFT, key)


def tick(place: str, item: str) -> str:
    """The field of one item of one place."""
    return f"tick~{place}~{item}"


def looked(place: str) -> str:
    """The field that says that two people looked for what is not ticked."""
    return f"looked~{place}"


def seal(place: str, asked: SealAsked) -> str:
    """The field of the number of one seal."""
    return f"seal~{place}~{'~'.join(asked.seal)}"


def cut(place: str, asked: SealAsked) -> str:
    """The field that says that this seal is not whole, or not there."""
    return f"cut~{place}~{'~'.join(asked.seal)}"


def draft_of(here: PlaceClosing | None) -> Draft:
    """Every field that the form has while it is about this place."""
    return Draft(DRAFT.page, (*DRAFT.fields, *_own_fields(here))) if here else DRAFT


def _own_fields(here: PlaceClosing) -> Iterator[str]:
    place = here.now.place.place
    yield looked(place)
    yield from (tick(place, each.here.name) for each in here.custody.items)
    for asked in seals_to_read(here.custody):
        yield from (seal(place, asked), cut(place, asked))


def keep_typed(here: PlaceClosing | None) -> None:
    """Remember what the form holds of this place, beside what was typed of others before."""
    before = dict(st.session_state.get(DRAFT.page, {}))
    draft_of(here).keep_typed()
    st.session_state[DRAFT.page] = before | st.session_state[DRAFT.page]


def forget(here: PlaceClosing | None) -> None:
    """Forget what was typed of this place, but not who takes it in."""
    gone = [name for name in draft_of(here).fields if name not in WHO]
    for name in gone:
        st.session_state[widget(name)] = nothing_in(name)
    kept = st.session_state.get(DRAFT.page, {})
    st.session_state[DRAFT.page] = {name: value for name, value in kept.items() if name not in gone}
    st.session_state.pop(KEY, None)


def nothing_in(field: str) -> object:
    """What an empty field holds."""
    if field == "place":
        return None
    return False if field.startswith(("tick~", "cut~", "looked~")) else ""


def here_on(board: Board) -> PlaceClosing | None:
    """The closing of the place that is meant; None while none is chosen."""
    now = board.place_by_id.get(SOUGHT.place(board))
    return closing_of(now, board.plan, board.as_of) if now else None


def said_so_far(here: PlaceClosing | None) -> Receiving:
    """What has been ticked and typed."""
    roles, note = tuple(_typed(each) for each in WHO), _typed("note")
    if here is None:
        return Receiving(roles=roles, note=note)
    place = here.now.place.place
    return Receiving(
        place=place,
        back=frozenset(each.here.name for each in here.custody.items if _ticked(tick(place, each.here.name))),
        seals=MappingProxyType(
            {
                asked.seal: SealRead(_typed(seal(place, asked)), whole=not _ticked(cut(place, asked)))
                for asked in seals_to_read(here.custody)
            }
        ),
        roles=roles,
        looked=_ticked(looked(place)),
        note=note,
    )


def _typed(field: str) -> str:
    return str(st.session_state.get(widget(field)) or "")


def _ticked(field: str) -> bool:
    return bool(st.session_state.get(widget(field)))


def differences(said: Receiving, here: PlaceClosing) -> dict[SealAsked, str]:
    """What differs of the seals read so far, in words; the number put on is said only once another was typed."""
    return {
        asked: f"Seal of {asked.says}: not whole, or not there."
        if state is SealState.NOT_WHOLE
        else f"Seal of {asked.says}: found {said.seals[asked.seal].number.strip()}, put on {put_on}."
        for asked, state, put_on in differing(said, here.custody)
    }


def not_there(said: Receiving, here: PlaceClosing) -> str:
    """The items that are not ticked, in words; empty where none is missing."""
    called = {each.here.name: each.here.says for each in here.custody.items}
    return ", ".join(called[name] for name in not_ticked(said, here.custody))
