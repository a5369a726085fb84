"""Our own elements on a page: lists to choose from, the map, the step curves. What is chosen comes back as an id."""

from collections.abc import Callable, Mapping, Sequence

import streamlit as st

from dashboard.elements import element
from dashboard.list_row import ListRow

_rows, _map, _curves = element("rows"), element("places_map"), element("curves")
_roll = element("places_roll")
_first, _typing, _waits = element("first_field"), element("while_typing"), element("waits")

Chosen = Callable[[str], None]


def rows(data: Sequence[ListRow], *, key: str, label: str, kind: str, chosen: Chosen) -> None:
    """A list; `chosen` is called with a row's id when a person chooses it."""
    _rows(
        key=key,
        data={"rows": [row.data() for row in data], "label": label, "kind": kind},
        on_chosen_change=_taken(key, chosen),
    )


def map_of_places(data: Mapping[str, object], *, key: str, high: int, chosen: Chosen, size: float = 1.0) -> None:
    """The map, `high` pixels high; `size` enlarges shapes and names for reading from afar."""
    _map(key=key, data={**data, "high": high, "size": size}, on_chosen_change=_taken(key, chosen))


def places_roll(data: Mapping[str, object], *, key: str) -> None:
    """Send the places of maps that name this roll, so that they are sent only how those stand."""
    _roll(key=key, data=data)


def step_curves(data: Sequence[Mapping[str, object]], *, key: str) -> None:
    """The small curves, one a step."""
    _curves(key=key, data={"steps": list(data)})


def waits(data: Sequence[Mapping[str, object]], *, key: str) -> None:
    """The small curves of how soon cases were acknowledged and reached, with their words."""
    _waits(key=key, data={"panels": list(data)})


def first_field(*, key: str, within: str, token: str) -> None:
    """Put the cursor into the first field of the container with this class, once for each new token."""
    _first(key=key, data={"within": within, "token": token})


def while_typing(*, key: str, within: str, token: str) -> None:
    """Have what stands in the first field of this container told while it is typed, and the page drawn with it."""
    _typing(key=key, data={"within": within, "token": token}, on_typed_change=_draw_again)


def typed(key: str, token: str) -> str | None:
    """What `while_typing` of this key told last for this token; None where it told nothing."""
    told = getattr(st.session_state.get(key), "typed", None)
    return str(told["text"]) if isinstance(told, Mapping) and told.get("of") == token else None


def _draw_again() -> None:
    """Nothing to do: that something was typed is enough for the page to be drawn."""


def _taken(key: str, chosen: Chosen) -> Callable[[], None]:
    def take() -> None:
        taken = st.session_state[key].chosen
        if isinstance(taken, str):
            chosen(taken)

    return take
