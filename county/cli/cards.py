"""`--cards FILE`: the cards that go out with the keys, as a PDF that only its owner may read."""

import os
from collections.abc import Sequence
from pathlib import Path
from urllib.parse import urlsplit

from county import desk
from county.cards.card import Card, card_for, rover_card
from county.cli.command import counted
from county.domain.plan import Plan
from county.domain.roster import Roster
from county.domain.senders import Sender
from county.errors import NotFound, Problem, Refused
from county.wiring import Office

_THIS_MACHINE = ("127.0.0.1", "localhost", "::1")


def room_for(file: Path, senders: Sequence[Sender]) -> None:
    """Raises before any key is issued where the cards could not be written: Refused or NotFound."""
    if any(sender.desk for sender in senders):
        raise Refused([Problem("--cards", "a desk has no card; cards are for places and rovers")])
    if file.is_dir() or not file.absolute().parent.is_dir() or not os.access(file.absolute().parent, os.W_OK):
        raise NotFound(f"--cards: no file can be written at {file}")


def write_cards(office: Office, file: Path, senders: Sequence[Sender], keys: Sequence[str]) -> str:
    """Write a card for each place or rover with its key; what was done, in a line."""
    from county.cards.printing import cards_pdf  # Typst is large, and no other command needs it

    roster, base = desk.roster(office), office.settings.base
    cards = [_card(sender, key, base, roster, office.plan) for sender, key in zip(senders, keys, strict=True)]
    with open(file, "wb", opener=_owners_only) as out:
        out.write(cards_pdf(cards, office.plan))
    own = urlsplit(base).hostname in _THIS_MACHINE
    warns = ", which no phone can reach: set POLLRISE_ADDRESS and issue them again" if own else ""
    return f"wrote {counted(len(cards), 'card')} to {file}, with their keys; they lead to {base}{warns}"


def _card(sender: Sender, key: str, base: str, roster: Roster, plan: Plan) -> Card:
    if sender.rover is not None:
        return rover_card(roster.rover_by_id[sender.rover], key, base, plan)
    return card_for(roster.place_by_id[sender.place or ""], key, base, roster, plan)


def _owners_only(path: str, flags: int) -> int:
    return os.open(path, flags, 0o600)
