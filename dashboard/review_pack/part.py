"""The record as a pack: what is in it, what is left out, how long to keep it, and the button that makes it."""

import streamlit as st

from county import desk
from county.domain.keeping import MONTHS, keep_through
from county.domain.people import Role
from county.domain.roles import Deed
from county.settings import Settings
from dashboard import feed, layout, who, words
from dashboard.board_now import Board
from dashboard.markup import Markup, tag, text
from dashboard.review_pack.making import Packs, Wanted

LOOKS_EVERY = 2.0
_HOLDS = (
    ("Report, as PDF", "two pages on how to read it, the county's day, every subject, each place's day"),
    ("Activity log, as PDF", "under the block names of ICS form 214; no claim to comply with it"),
    ("Workbook and CSV", "a sheet and a file a subject; places on a map as GeoJSON"),
    ("The ledger, line by line", "with a verifier that needs nothing but Python"),
)


def pack(board: Board) -> None:
    """What the pack is; the button stands below, outside what is redrawn."""
    entries = desk.last_seq(feed.current().office)
    layout.heading(board, f"The record has {words.counted(entries, 'entry', 'entries')}, ready to be handed out.")
    layout.section("What the pack holds")
    st.html(tag("ul", *(_held(*each) for each in _HOLDS), cls="pr-links"))
    layout.note(
        "Names of staff and telephone numbers are left out unless a lead asks for them. Notes stand as they were "
        "written without the names the office knows; other names may stand in them. The same ledger gives the same "
        "bytes."
    )
    layout.section("Keeping")
    layout.note(keeping(board))


def keeping(board: Board) -> str:
    """How long the record is to be kept, and how an election is put into one file."""
    limits, day = board.plan.limits, board.plan.election.date
    until = keep_through(day, limits.keep_months)
    longer = "52 U.S.C. 20701" if limits.keep_months <= MONTHS else "the plan"
    return (
        f"Keep this record through {until:%B} {until.day}, {until.year} at least ({longer}). "
        "python -m county archive FILE puts the whole election into one file that later versions open."
    )


def controls() -> None:
    """Below the page: what may be left out or in, the button, and how far it has come."""
    if not who.may_do(Deed.EXPORT):
        who.only_looks(Deed.EXPORT)
        return
    _controls()


@st.fragment(run_every=LOOKS_EVERY)
def _controls() -> None:
    lead = who.person().role is Role.LEAD
    left, right = st.columns(2)
    notes = left.checkbox("With notes, as they were written", value=True, key="pack-notes")
    names = lead and right.checkbox("With names of staff and telephone numbers: not for the public", key="pack-names")
    packs = packs_here()
    wanted = Wanted(desk.last_seq(feed.current().office), names=names, notes=notes or names)
    wanted = st.session_state.get("pack-begun", {}).get((wanted.names, wanted.notes), wanted)
    made, stand = packs.made(wanted), packs.stand(wanted)
    if made:
        st.download_button(
            f"Save {made.name} ({made.stat().st_size / 1e6:,.1f} MB)", made.read_bytes, made.name, key="pack-save"
        )
        return
    if stand and stand.failed:
        st.html(tag("p", text(f"No pack was made: {stand.failed}"), cls="pr-said", role="status"))
    elif stand:
        st.html(tag("p", text(f"Being made, writing {stand.says}. A large county takes minutes."), role="status"))
        return
    if st.button("Make the pack", type="primary", key="pack-make"):
        who.person()
        packs.begin(wanted)
        st.session_state.setdefault("pack-begun", {})[wanted.names, wanted.notes] = wanted
        st.rerun(scope="fragment")


def packs_here() -> Packs:
    """The packs of this board, the same for all who look."""
    settings = feed.current().office.settings
    return _packs(str(settings.data), settings)


@st.cache_resource
def _packs(data: str, _settings: Settings) -> Packs:
    return Packs(_settings)


def _held(what: str, says: str) -> Markup:
    return tag("li", tag("b", text(what)), text(f": {says}"))
