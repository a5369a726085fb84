"""What a made-up day has in store: for each thing that can happen, the places where it does."""

from collections.abc import Mapping
from dataclasses import dataclass

from county.domain.roster import Roster
from county.rehearsal.evidence import ODDITIES
from county.rehearsal.lateness import Delay, delays
from county.rehearsal.regimes import Regime
from county.rehearsal.sent import chance, some
from county.rehearsal.troubles import TROUBLES, When

FIRST_HOURS = 3
WHOLE_DAY = 24
HOURS_AFTER = 10


@dataclass(frozen=True, slots=True)
class Luck:
    """The draw of one day. `oddities` is by what they play, `morning` and `later` by the name of the trouble."""

    delays: Mapping[str, Delay]
    oddities: Mapping[str, frozenset[str]]
    morning: Mapping[str, frozenset[str]]
    later: Mapping[str, frozenset[str]]
    never_heard: frozenset[str]
    goes_quiet: frozenset[str]
    offline: frozenset[str]
    by_drop: frozenset[str]
    clock_ahead: frozenset[str]
    conflict: frozenset[str]
    put_right: frozenset[str]
    out_of_balance: frozenset[str]
    not_back: frozenset[str]
    not_there: frozenset[str]
    other_seal: frozenset[str]
    short_of_ballots: frozenset[str]


def draw(roster: Roster, regime: Regime, run: str, hours: int) -> Luck:
    """Draw the day. Only what opens in time goes unheard, or has its opening time put right: so late stays late."""
    late = delays(roster, regime, run)
    in_time = roster.place_by_id.keys() - late.keys()
    never = some(in_time, regime.never_heard, chance(run, "never heard"))
    quiet = some(in_time - never, regime.goes_quiet, chance(run, "goes quiet"), always=True)
    rest = in_time - never - quiet
    ahead = some(rest, 0.015, chance(run, "clock ahead"), always=True)
    by_drop = some(rest - ahead, 0.06, chance(run, "drop"), always=True)
    heard = roster.place_by_id.keys() - never
    told = heard - quiet
    return Luck(
        delays=late,
        oddities={odd.plays: some(told, odd.rate, chance(run, odd.plays), always=odd.always) for odd in ODDITIES},
        morning=_morning(told, regime, run),
        later=_later(told, regime, run, hours),
        never_heard=never,
        goes_quiet=quiet,
        offline=some(rest - by_drop - ahead, regime.offline, chance(run, "offline"), always=True),
        by_drop=by_drop,
        clock_ahead=ahead,
        conflict=some(rest, 0.01, chance(run, "conflict"), always=True),
        put_right=some(rest - ahead, 0.03, chance(run, "put right"), always=True),
        out_of_balance=some(told, 0.04, chance(run, "out of balance"), always=True),
        not_back=some(told, 0.02, chance(run, "not back"), always=True),
        not_there=some(told, regime.custody, chance(run, "not there"), always=regime.custody > 0),
        other_seal=some(told, regime.custody, chance(run, "other seal"), always=regime.custody > 0),
        short_of_ballots=some(told, regime.short_of_ballots, chance(run, "short of ballots")),
    )


def _morning(told: set[str], regime: Regime, run: str) -> dict[str, frozenset[str]]:
    """Where each trouble happens from staffing to three hours after opening."""
    return {
        each.name: some(told, each.rate * regime.calls, chance(run, "morning", each.name), always=each.always)
        for each in TROUBLES
    }


def _later(told: set[str], regime: Regime, run: str, hours: int) -> dict[str, frozenset[str]]:
    """Where each happens once more in the hours after that; half of a day's calls come in the first three hours."""
    share = regime.calls * max(0, hours - FIRST_HOURS) / HOURS_AFTER
    return {
        each.name: some(told, each.rate * share, chance(run, "later", each.name))
        for each in TROUBLES
        if each.when is not When.BEFORE
    }
