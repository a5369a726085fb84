"""`keys issue` and `keys revoke`: reporting keys for places and desks."""

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from county import desk, upkeep
from county.cli.cards import room_for, write_cards
from county.cli.command import Given, counted
from county.domain.people import read_name
from county.domain.senders import Sender
from county.errors import NotFound


def add_to(commands: Any) -> None:
    keys = commands.add_parser("keys", help="reporting keys of places and desks", description="Reporting keys.")
    actions = keys.add_subparsers(metavar="ACTION", required=True)
    issue = actions.add_parser(
        "issue",
        help="make new keys",
        description="Make reporting keys and show them this once, a line each: place or name, tab, key. "
        "Keys issued earlier stay valid until they are revoked.",
    )
    issue.add_argument(
        "--cards",
        metavar="FILE",
        type=Path,
        help="also print a card for each place into this PDF: a square code that leads to its sheet at "
        "POLLRISE_ADDRESS, the text line's words, the telephone",
    )
    revoke = actions.add_parser(
        "revoke",
        help="end keys",
        description="End every live key of a place or a desk, or of everybody.",
    )
    for action, do in ((issue, _issue), (revoke, _revoke)):
        whose = action.add_mutually_exclusive_group(required=True)
        whose.add_argument("--place", metavar="ID", help="one polling place (or a precinct that votes there)")
        whose.add_argument("--desk", metavar="NAME", help="a desk at the office, which may report for any place")
        everybody = "every place of the roster" if action is issue else "every place and every desk"
        whose.add_argument("--all", action="store_true", help=everybody)
        action.set_defaults(do=do)


def _issue(given: Given, asked: argparse.Namespace) -> int:
    senders = _every_place(given) if asked.all else [_one(given, asked)]
    if asked.cards:
        room_for(asked.cards, senders)
    issued = upkeep.issue_keys(given.office, senders)
    for sender, key in zip(senders, issued, strict=True):
        print(f"{sender.shown}\t{key}")
    live = upkeep.live_keys(given.office)
    older = sum(live[sender.name] - 1 for sender in senders)
    more = f"; {counted(older, 'key')} issued to them earlier stay valid until revoked" if older else ""
    # what was done goes beside the keys, not among them
    print(f"issued {counted(len(issued), 'key')}, shown this once{more}", file=sys.stderr)
    if asked.cards:
        print(write_cards(given.office, asked.cards, senders, issued), file=sys.stderr)
    return 0


def _revoke(given: Given, asked: argparse.Namespace) -> int:
    sender = None if asked.all else _one(given, asked, missing_is_fine=True)
    ended = upkeep.revoke_keys(given.office, sender)
    print(f"revoked {counted(ended, 'key')} of {sender.shown if sender else 'everybody'}")
    return 0


def _every_place(given: Given) -> Sequence[Sender]:
    places = desk.roster(given.office).places
    if not places:
        raise NotFound("the roster has no places yet; `roster load` comes first")
    return [Sender.at_place(place.place) for place in places]


def _one(given: Given, asked: argparse.Namespace, *, missing_is_fine: bool = False) -> Sender:
    """The one place or desk meant. A key may be ended also where its place is no longer in the roster."""
    if asked.desk is not None:
        return Sender.at_desk(read_name(asked.desk))
    place = desk.roster(given.office).place_of(asked.place)
    if place:
        return Sender.at_place(place.place)
    gone = Sender.at_place(asked.place)
    if missing_is_fine and gone.name in upkeep.live_keys(given.office):
        return gone
    raise NotFound(f"the roster has no place or precinct {asked.place}")
