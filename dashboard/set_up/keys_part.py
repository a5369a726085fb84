"""Reporting keys and the cards they are printed on: issued to whoever has none, shown once, ended one by one."""

from collections.abc import Sequence

import streamlit as st

from county import desk, getting_ready, upkeep
from county.cards.card import Card, card_for, rover_card
from county.domain.roles import Deed
from county.domain.roster import Roster
from county.domain.senders import Sender
from county.wiring import Office
from dashboard import layout, words
from dashboard.board_now import Board
from dashboard.markup import tag, text
from dashboard.set_up import standing

PART = "Keys and cards"
_CARDS = "keys-cards"


def show(board: Board) -> None:
    """How many have a key, who has none, and the cards just made."""
    office = standing.office_of(board)
    live = upkeep.live_keys(office)
    without = _without(board.roster, live)
    layout.section("Keys and cards", _counts(board.roster, live))
    standing.say(PART)
    _cards_once(office)
    if not board.roster.places:
        layout.note("The roster has no places yet; keys are for places and rovers of the roster.")
        return
    if without:
        says = f"Issue keys to {_who(without)} and make the cards"
        st.button(says, type="primary", key="keys-issue", on_click=_issue, args=(tuple(without),))
    else:
        layout.note("Every place and every rover has a key.")
    with st.expander("A card was lost, or is to be printed again", key="keys-again"):
        every = _every(board.roster)
        by_name = {sender.name: sender for sender in every}
        st.selectbox(
            "Whose?", list(by_name), key="keys-whose", format_func=lambda name: _named(by_name[name], board.roster)
        )
        st.button("End the old key, and make a new card", key="keys-one", on_click=_again)
        layout.note("The old card is harmless from that moment: its key no longer reports and no longer opens a sheet.")
    st.html(tag("p", text(_where(office)), cls="pr-note"))


def _issue(senders: Sequence[Sender]) -> None:
    standing.do(PART, Deed.SET_UP, lambda: _make(standing.now_office(), senders))


def _again() -> None:
    sender = Sender.named(str(st.session_state["keys-whose"]))

    def work() -> str:
        office = standing.now_office()
        upkeep.revoke_keys(office, sender)
        return _make(office, [sender])

    standing.do(PART, Deed.SET_UP, work)


def _make(office: Office, senders: Sequence[Sender]) -> str:
    """Issue the keys and keep their cards for one download; nothing is written to any disk here."""
    from county.cards.printing import cards_pdf  # Typst is large, and no other part of the board needs it

    keys = upkeep.issue_keys(office, senders)
    roster = desk.roster(office)
    cards = [_card(sender, key, office, roster) for sender, key in zip(senders, keys, strict=True)]
    st.session_state[_CARDS] = (cards_pdf(cards, office.plan), _who(senders))
    return ""


def _card(sender: Sender, key: str, office: Office, roster: Roster) -> Card:
    base = office.settings.base
    if sender.rover:
        return rover_card(roster.rover_by_id[sender.rover], key, base, office.plan)
    return card_for(roster.place_by_id[str(sender.place)], key, base, roster, office.plan)


def _cards_once(office: Office) -> None:
    made, whose = st.session_state.get(_CARDS, (b"", ""))
    if not made:
        return
    with st.container(border=True, key="keys-once"):
        says = f"Cards for {whose}, with their keys. Whoever has this file has the keys: print it, then delete it."
        st.html(tag("p", text(says), role="status"))
        if office.plan.election.rehearsal:
            st.html(tag("p", text("They say REHEARSAL, because the plan says that it is one."), cls="pr-warn"))
        st.download_button(
            "Download the cards",
            made,
            "cards.pdf",
            "application/pdf",
            key="keys-file",
            type="primary",
            on_click="ignore",
        )
        st.button("I have them", key="keys-have", on_click=lambda: st.session_state.pop(_CARDS, None))


def _every(roster: Roster) -> list[Sender]:
    places = [Sender.at_place(place.place) for place in roster.places]
    return places + [Sender.on_the_road(rover.rover) for rover in roster.rovers]


def _without(roster: Roster, live: dict[str, int]) -> list[Sender]:
    return [sender for sender in _every(roster) if sender.name not in live]


def _named(sender: Sender, roster: Roster) -> str:
    if sender.rover:
        return f"{sender.rover}, {roster.rover_by_id[sender.rover].name}"
    return f"{sender.place}, {roster.place_by_id[str(sender.place)].name}"


def _who(senders: Sequence[Sender]) -> str:
    rovers = sum(sender.rover is not None for sender in senders)
    places = len(senders) - rovers
    parts = [words.counted(places, "place") if places else "", words.counted(rovers, "rover") if rovers else ""]
    return words.listed(parts)


def _counts(roster: Roster, live: dict[str, int]) -> str:
    have = len(_every(roster)) - len(_without(roster, live))
    desks = sum(Sender.named(holder).desk for holder in live)
    return f"{have:,} of {len(_every(roster)):,} places and rovers have a key; {words.counted(desks, 'desk')}"


def _where(office: Office) -> str:
    base = office.settings.base
    if getting_ready.cards_lead_here(office.settings):
        return f"The cards lead to {base}, which only this machine reaches: set POLLRISE_ADDRESS before you print."
    return f"The cards lead to {base}."
