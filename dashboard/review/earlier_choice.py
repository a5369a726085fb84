"""Which earlier election to compare with: a file of its steps or its exported ledger, at hand or sent up."""

from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path

import streamlit as st

from county.domain.earlier_steps import EarlierStep, parse_earlier_steps
from county.domain.picture import Picture
from county.domain.record.earlier_ledger import steps_of_ledger
from county.earlier_file import FILE, earlier_folders
from county.errors import Refused
from dashboard import feed
from dashboard.markup import tag, text

FOLDER = "earlier"
SENT = "the file sent up here"
LEDGER = (".jsonl", ".ndjson")


def chosen(picture: Picture) -> tuple[EarlierStep, ...]:
    """The steps of the earlier election that was chosen; none where there is none, and then the page says why."""
    files = at_hand()
    sent = st.session_state.get("earlier-sent")
    choices = [*files, *([SENT] if sent is not None else [])]
    choice = st.selectbox("Which earlier election", choices, key="earlier-which") if len(choices) > 1 else None
    choice = choice or next(iter(choices), None)
    if choice is None:
        return ()
    try:
        if choice == SENT and sent is not None:
            return read(sent.name, sent.getvalue().decode("utf-8"), picture)
        return read_file(files[choice], files[choice].stat().st_mtime_ns, picture)
    except (Refused, OSError, UnicodeDecodeError) as error:
        st.html(tag("p", text(f"{choice} could not be read: {error}"), cls="pr-said", role="alert"))
        return ()


def send_up() -> None:
    """Where a person gives another file."""
    st.file_uploader(
        "Another election: a file of its steps (CSV) or its exported ledger (JSON lines)",
        type=["csv", *(suffix.removeprefix(".") for suffix in LEDGER)],
        key="earlier-sent",
    )


def at_hand() -> Mapping[str, Path]:
    """The files that lie where earlier elections are kept, by what they are called."""
    settings = feed.current().office.settings
    usual = [folder / FILE for folder in earlier_folders(settings)]
    more = sorted((settings.data / FOLDER).glob("*")) if (settings.data / FOLDER).is_dir() else []
    files = [*usual, *(file for file in more if file.suffix in (".csv", *LEDGER))]
    return {_called(file): file for file in files if file.is_file()}


def _called(file: Path) -> str:
    return f"{file.parent.name}/{file.name}"


@lru_cache(maxsize=4)
def read_file(file: Path, changed_at: int, picture: Picture) -> tuple[EarlierStep, ...]:
    """The steps in a file; read again when it has changed."""
    return read(file.name, file.read_text(encoding="utf-8"), picture)


def read(name: str, said: str, picture: Picture) -> tuple[EarlierStep, ...]:
    """The steps in a text, by the kind of file it is. Raises Refused."""
    if name.endswith(LEDGER):
        return steps_of_ledger(said, name, picture.roster, picture.plan)
    return parse_earlier_steps(said, name)
