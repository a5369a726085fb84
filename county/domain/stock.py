"""How many ballots to supply to a place, from how many voted at the last such election."""

from county.domain.roster import Place, Roster


def ballots_to_supply(registered: int, last_turnout: int) -> int:
    """The last turnout (whole percent) of those registered and a quarter of it, never more than are registered.

    A part of a ballot counts as a whole one. Source: Tex. Elec. Code 51.005. Other states' rules differ: a hint.
    ValueError where `registered` is negative or the turnout is not a percentage from 0 to 100.
    """
    if registered < 0 or not 0 <= last_turnout <= 100:
        raise ValueError(f"{registered} registered at {last_turnout} % is no turnout")
    # percent times five quarters, in whole numbers
    return min(registered, -(-registered * last_turnout * 5 // 400))


def registered_at(place: Place, roster: Roster) -> int | None:
    """How many are registered at a place: as the place says, else the sum of its precincts where every one says."""
    if place.registered is not None:
        return place.registered
    counts = [precinct.registered for precinct in roster.precincts_at.get(place.place, ())]
    known = [count for count in counts if count is not None]
    return sum(known) if known and len(known) == len(counts) else None
