"""Replay: any place at any moment of the day, as the office knew it then and as it happened, without folding it all."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from county.domain.both_orders import View
from county.domain.entries import Entry, Kind
from county.domain.expected import expected_of
from county.domain.picture import Picture
from county.domain.place_replay import NOWHERE, Glance, PlaceReplay
from county.domain.place_state import PlaceState
from county.domain.plan import Plan
from county.domain.roster import Roster


@dataclass(frozen=True, slots=True)
class Beside:
    """One place at a moment as known then, and as it happened."""

    known: Glance
    happened: Glance

    @property
    def place(self) -> str:
        return self.known.place

    @property
    def differs(self) -> bool:
        """Whether the office believed something else than what was so."""
        return self.known != self.happened


class Replay:
    """The day of a county, entry by entry. What was folded once is kept in brief, so that a moment is found quickly.

    A place looks the same from one of its entries to the next, and over all the counts and notes with which nothing
    begins or ends, so that few places are folded again from one moment to another. It holds every entry once and a
    brief for each time that a place looks otherwise. `folded` are places as folded elsewhere, with this roster and
    plan, from the newest entries there were; they need not be folded again.
    """

    def __init__(
        self, roster: Roster, plan: Plan, entries: Iterable[Entry] = (), folded: Mapping[str, PlaceState] = NOWHERE
    ) -> None:
        self.roster = roster
        self.plan = plan
        whole = folded.keys() == roster.place_by_id.keys()
        every = {place: state.expected for place, state in folded.items()} if whole else expected_of(roster, plan)
        self.places = {place: PlaceReplay(expected, plan, folded) for place, expected in every.items()}
        self.add(entries)

    def add(self, entries: Iterable[Entry]) -> None:
        """Take in more entries, in any order and any number of times."""
        more: dict[str, list[Entry]] = {}
        for entry in entries:
            more.setdefault(entry.place, []).append(entry)
        for place, told in more.items():
            if place in self.places:
                self.places[place].add(told)

    def state(self, place: str, at: datetime, view: View) -> PlaceState:
        """One place folded as of a moment: what Picture.of(known(entries, at)) has, or of happened(entries, at)."""
        return self.places[place].state(at, view)

    def told(self, place: str, at: datetime, view: View) -> tuple[Entry, ...]:
        """The entries of one place that count at a moment, in the order learned, or in which they happened."""
        return tuple(self.places[place].told(at, view))

    def glance(self, place: str, at: datetime, view: View) -> Glance:
        """One place at a moment in brief."""
        return self.places[place].glance(at, view)

    def everywhere(self, at: datetime) -> tuple[Beside, ...]:
        """Every place at a moment, in the roster's order."""
        return tuple(
            Beside(days.glance(at, View.KNOWN), days.glance(at, View.HAPPENED)) for days in self.places.values()
        )

    def fold_ahead(self, place: str) -> None:
        """Fold one place as of every moment, so that it need not be later."""
        self.places[place].fold_ahead()

    def unlearned(self, place: str, at: datetime) -> tuple[Entry, ...]:
        """What had happened at a place by then and the office had not yet heard of, in the order it happened."""
        known = {entry.key for entry in self.told(place, at, View.KNOWN)}
        then = self.told(place, at, View.HAPPENED)
        unknown = (entry for entry in then if entry.key not in known)
        return tuple(entry for entry in unknown if entry.kind is not Kind.CORRECTION or entry.happened_at <= at)

    def picture(self, at: datetime, view: View) -> Picture:
        """The whole county's picture as of a moment; it folds every place."""
        every = (entry for days in self.places.values() for entry in days.told(at, view))
        return Picture.of(self.roster, self.plan, every, heard_by_happening=view is View.HAPPENED)
