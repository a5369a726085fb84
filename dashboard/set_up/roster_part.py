"""The roster: the county's own files are dropped, looked at without doing anything, confirmed, and loaded."""

from collections.abc import Mapping, Sequence

import streamlit as st

from county import roster_loading
from county.domain.roles import Deed
from county.errors import PollriseError
from county.roster_files.columns import Guess
from county.roster_files.fields import FIELDS
from county.roster_files.files import RosterFile
from county.roster_loading import Looked
from dashboard import layout, who, words
from dashboard.board_now import Board
from dashboard.markup import tag, text
from dashboard.set_up import roster_words, standing

PART = "Roster"
LARGEST_MB = 20
ENDINGS = ["csv", "tsv", "txt", "xlsx", "xml", "zip"]
_TURN, _TOLD, _LOOKED, _SURE = "roster-turn", "roster-told", "roster-looked", "roster-sure"
_LEFT_OUT = "(left out)"


def show(board: Board) -> None:
    """What stands, the place to drop files, and what loading them would do."""
    layout.section("Roster", roster_words.counts(board.roster))
    standing.say(PART)
    files = st.file_uploader(
        f"Drop the county's own lists here, all at once: CSV, XLSX, or VIP feeds, up to {LARGEST_MB} MB each",
        type=ENDINGS,
        accept_multiple_files=True,
        max_upload_size=LARGEST_MB,
        key=f"roster-files-{st.session_state.get(_TURN, 0)}",
    )
    if not files:
        layout.note(
            "Nothing is loaded before you have seen what it would change. places.csv, precincts.csv, devices.csv, "
            "seals.csv and rovers.csv as in sample_data, or lists with other columns, which are then guessed and shown."
        )
        return
    given = tuple(RosterFile.held(file.name, file.getvalue()) for file in files)
    looked = _look(board, given, tuple(file.file_id for file in files))
    if looked is not None:
        _dry_run(looked, given)


def _look(board: Board, given: Sequence[RosterFile], ids: tuple[str, ...]) -> Looked | None:
    """The dry run of these files, made again only where they, their columns or the roster have changed."""
    told = _told()
    key = (ids, repr(told), id(board.roster), id(board.plan))
    kept = st.session_state.get(_LOOKED)
    if kept and kept[0] == key:
        return kept[1]  # type: ignore[no-any-return]
    try:
        looked = roster_loading.check(standing.office_of(board), given, told)
    except PollriseError as error:
        st.html(tag("p", text(words.sentence(str(error))), cls="pr-said", role="alert"))
        return None
    st.session_state[_LOOKED] = (key, looked)
    return looked


def _dry_run(looked: Looked, given: Sequence[RosterFile]) -> None:
    st.html(tag("p", text(roster_words.would(looked)), cls="pr-verdict", role="status"))
    for guess in looked.guesses:
        _columns(guess)
    if looked.problems:
        st.html(roster_words.problems(looked.problems))
    if looked.loading and looked.loading.changes:
        with st.expander("What would change, row by row", key="roster-changes"):
            st.html(roster_words.changes(looked.loading.changes))
    if looked.notes:
        with st.expander(f"Left out or merged: {len(looked.notes):,}", key="roster-notes"):
            st.html(roster_words.problems(looked.notes))
    if looked.doubts:
        st.checkbox("I have looked at the columns, and they are right", key=_SURE)
    may = not looked.wrong and looked.loading is not None and bool(looked.loading.changes)
    sure = not looked.doubts or bool(st.session_state.get(_SURE))
    st.button(
        "Load this roster",
        type="primary",
        key="roster-load",
        disabled=not (may and sure),
        on_click=_load,
        args=(given,),
    )


def _columns(guess: Guess) -> None:
    """How one list's columns are read, each with its first values; another column can be chosen for any."""
    st.html(roster_words.guessed(guess))
    with (
        st.expander(f"Read {guess.file} by other columns", key=f"roster-map-{guess.file}"),
        st.form(f"roster-form-{guess.file}", border=False),
    ):
        options = [_LEFT_OUT, *dict.fromkeys((*guess.headers, *map(" + ".join, guess.columns.values())))]
        left, right = st.columns(2, gap="small")
        for number, field in enumerate(FIELDS):
            now = " + ".join(guess.columns.get(field, ())) or _LEFT_OUT
            (left, right)[number % 2].selectbox(
                words.begun(FIELDS[field]), options, index=options.index(now), key=_widget(guess.file, field)
            )
        st.form_submit_button("Read it so", key=f"roster-so-{guess.file}", on_click=_tell, args=(guess,))


def _tell(guess: Guess) -> None:
    """Keep what was chosen for this list, where it differs from what was guessed."""
    chosen = {field: st.session_state.get(_widget(guess.file, field), _LEFT_OUT) for field in FIELDS}
    said = {field: "" if header == _LEFT_OUT else str(header) for field, header in chosen.items()}
    changed = {field: header for field, header in said.items() if header != " + ".join(guess.columns.get(field, ()))}
    st.session_state[_TOLD] = {**_told(), guess.file: {**_told().get(guess.file, {}), **changed}}


def _load(given: Sequence[RosterFile]) -> None:
    sure = bool(st.session_state.get(_SURE))

    def work() -> str:
        loaded = roster_loading.load(standing.now_office(), given, _told(), confirmed=sure, by=who.name())
        return f"Loaded. {roster_words.did(loaded)}"

    if standing.do(PART, Deed.SET_UP, work):
        st.session_state[_TURN] = st.session_state.get(_TURN, 0) + 1
        for key in (_TOLD, _LOOKED, _SURE):
            st.session_state.pop(key, None)


def _told() -> Mapping[str, Mapping[str, str]]:
    return st.session_state.get(_TOLD, {})  # type: ignore[no-any-return]


def _widget(file: str, field: str) -> str:
    return f"roster-map-{file}-{field}"
