"""`keys issue` and `keys revoke`: keys for places, rovers and desks."""

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
    keys = commands.add_parser("keys", help="keys of places, rovers and desks", description="Keys.")
    actions = keys.add_subparsers(metavar="ACTION", required=True)
    issue = actions.add_parser(
        "issue",
        help="make new keys",
        description="Make keys and show them this once, a line each: place, rover or name, tab, key. "
        "Keys issued earlier stay valid until they are revoked. A place's key reports for that place alone; a rover's "
        "opens its own assignments and acts on them, and on nothing else.",
    )
    issue.add_argument(
        "--cards",
        metavar="FILE",
        type=Path,
        help="also print a card for each into this PDF: a square code that leads to the place's sheet or the rover's "
        "assignments at POLLRISE_ADDRESS, the text line's words, the telephone",
    )
    revoke = actions.add_parser(
        "revoke",
        help="end keys",
        description="End every live key of a place, a rover or a desk, of all rovers, or of everybody.",
    )
    for action, do in ((issue, _issue), (revoke, _revoke)):
        whose = action.add_mutually_exclusive_group(required=True)
        whose.add_argument("--place", metavar="ID", help="one polling place (or a precinct that votes there)")
        whose.add_argument("--rover", metavar="ID", help="one rover, for its own assignments")
        whose.add_argument("--desk", metavar="NAME", help="a desk at the office, which may report for any place")
        whose.add_argument("--rovers", action="store_true", help="every rover of the roster")
        everybody = "every place of the roster" if action is issue else "every place, every rover and every desk"
        whose.add_argument("--all", action="store_true", help=everybody)
        action.set_defaults(do=do)


def _issue(given: Given, asked: argparse.Namespace) -> int:
    senders = _every(given, asked) or [_one(given, asked)]
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
    if asked.rovers:
        ended = sum(upkeep.revoke_keys(given.office, Sender.named(name)) for name in _rovers_with_keys(given))
        print(f"revoked {counted(ended, 'key')} of every rover")
        return 0
    sender = None if asked.all else _one(given, asked, missing_is_fine=True)
    ended = upkeep.revoke_keys(given.office, sender)
    print(f"revoked {counted(ended, 'key')} of {sender.shown if sender else 'everybody'}")
    return 0


def _every(given: Given, asked: argparse.Namespace) -> Sequence[Sender]:
    """Every place or every rover, as asked; none where one is asked for by name."""
    if not (asked.all or asked.rovers):
        return ()
    roster = desk.roster(given.office)
    found = (
        [Sender.on_the_road(rover.rover) for rover in roster.rovers]
        if asked.rovers
        else [Sender.at_place(place.place) for place in roster.places]
    )
    if not found:
        raise NotFound(f"the roster has no {'rovers' if asked.rovers else 'places'} yet; `roster load` comes first")
    return found


def _rovers_with_keys(given: Given) -> list[str]:
    return [name for name in upkeep.live_keys(given.office) if Sender.named(name).rover is not None]


def _one(given: Given, asked: argparse.Namespace, *, missing_is_fine: bool = False) -> Sender:
    """The one place, rover or desk meant. A key may be ended also where its holder is no longer in the roster."""
    if asked.desk is not None:
        return Sender.at_desk(read_name(asked.desk))
    roster = desk.roster(given.office)
    if asked.rover is not None:
        meant, known, what = Sender.on_the_road(asked.rover), asked.rover in roster.rover_by_id, "rover"
    else:
        place = roster.place_of(asked.place)
        meant, known, what = (
            Sender.at_place(place.place if place else asked.place),
            place is not None,
            "place or precinct",
        )
    if not known and not (missing_is_fine and meant.name in upkeep.live_keys(given.office)):
        raise NotFound(f"the roster has no {what} {meant.shown}")
    return meant
