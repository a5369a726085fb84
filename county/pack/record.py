"""Everything a pack is made of: one election's ledger with its plan and roster, as of the ledger's last entry."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from zoneinfo import ZoneInfo

from county.domain.earlier_steps import EarlierStep
from county.domain.entries import Entry
from county.domain.logs_beside import LogFile
from county.domain.picture import Picture, PlaceNow
from county.domain.plan import Plan
from county.domain.receipts import SetAside
from county.domain.record.place_record import Line, lines
from county.domain.roster import Place, Roster
from county.pack.names import names_of
from county.pack.public_copy import Copied, public_copy, public_plan, public_plan_text, public_roster

A_VOLUME = 100
"""So many places' days are bound in one volume: some hundred pages, and some hundred megabytes while it is typeset."""


@dataclass(frozen=True, slots=True)
class Choice:
    """What the pack is to show: names of staff and telephone numbers, notes, and which places' days in full.

    `places` are named ones beside those with a trouble worth the paper; `every_place` is all of them.
    """

    names: bool = False
    notes: bool = True
    places: tuple[str, ...] = ()
    every_place: bool = False


@dataclass(frozen=True)
class Record:
    """One election as the pack tells it. `entries` are as they may be shown.

    `digests` are the county ledger's own, one an entry, and `broken` is the first entry that its chain does not hold
    for, None where it holds throughout. `earlier` are the steps of the earlier election that forecasts went by.
    """

    plan: Plan
    plan_text: str
    roster: Roster
    copied: tuple[Copied, ...]
    set_aside: tuple[SetAside, ...]
    digests: tuple[str, ...]
    broken: int | None
    choice: Choice
    logs: tuple[LogFile, ...] = ()
    earlier: tuple[EarlierStep, ...] = ()

    @property
    def public(self) -> bool:
        """Whether names and telephone numbers are left out."""
        return not self.choice.names

    @cached_property
    def entries(self) -> tuple[Entry, ...]:
        return tuple(each.entry for each in self.copied)

    @cached_property
    def picture(self) -> Picture:
        return Picture.of(self.roster, self.plan, self.entries)

    @cached_property
    def lines(self) -> Mapping[int, Line]:
        """Every entry of a place with what became of it, by its number."""
        return {line.entry.seq: line for state in self.picture.places.values() for line in lines(state.day)}

    @cached_property
    def as_of(self) -> datetime:
        """When the last entry about a place was received: the moment for which every figure is given (aware UTC).

        By the set clock where there was one. Neither the time of exporting nor who signed in since bears on the pack.
        """
        about = [entry for entry in self.entries if entry.place]
        about = [entry for entry in about if entry.clock != "real"] or about
        opens = min((each.opens_at for each in self.picture.expected.values()), default=None)
        first = opens or datetime.combine(self.plan.election.date, self.plan.election.opens, self.zone)
        return max((entry.received_at for entry in about), default=first)

    @cached_property
    def places(self) -> tuple[PlaceNow, ...]:
        """Every place as of that moment, in the roster's order."""
        return self.picture.everywhere(self.as_of)

    @property
    def in_volumes(self) -> bool:
        """Whether places' days are too many for the report, and bound in volumes."""
        return len(self.roster.places) > A_VOLUME

    @cached_property
    def zone(self) -> ZoneInfo:
        """The county's zone."""
        return ZoneInfo(self.plan.election.zone)

    @cached_property
    def rehearsal(self) -> bool:
        """Whether any of it was made up: the plan says so, or a report was received by a clock that had been set."""
        return self.plan.election.rehearsal or any(entry.clock != "real" for entry in self.entries)

    def zone_of(self, place: str) -> ZoneInfo:
        """The zone of a place; the county's where it has none of its own, or there is no such place."""
        held = self.roster.place_by_id.get(place)
        return ZoneInfo(held.time_zone) if held and held.time_zone else self.zone

    def named(self, place: str) -> Place | None:
        """The place of this id on the roster, or None."""
        return self.roster.place_by_id.get(place)


@dataclass(frozen=True, slots=True)
class Kept:
    """What the office keeps of an election: plan and its text, roster, ledger, what was set aside, devices' logs.

    And, where one lies there, the steps of an earlier election.
    """

    plan: Plan
    plan_text: str
    roster: Roster
    entries: Sequence[Entry]
    set_aside: Sequence[SetAside]
    digests: tuple[str, ...]
    broken: int | None = None
    logs: tuple[LogFile, ...] = ()
    earlier: tuple[EarlierStep, ...] = ()


def make_record(kept: Kept, choice: Choice) -> Record:
    """The record of what is kept, with names left out unless the choice says otherwise."""
    aside = tuple(sorted(kept.set_aside, key=lambda item: item.number))
    if choice.names:
        plan, text, roster = kept.plan, kept.plan_text, kept.roster
        copied = tuple(Copied(entry, ()) for entry in kept.entries)
    else:
        names = names_of(kept.entries, kept.roster, kept.plan)
        plan, text, roster = (
            public_plan(kept.plan, names),
            public_plan_text(kept.plan_text, names),
            public_roster(kept.roster),
        )
        copied = public_copy(kept.entries, names, notes=choice.notes)
    return Record(plan, text, roster, copied, aside, kept.digests, kept.broken, choice, kept.logs, kept.earlier)
