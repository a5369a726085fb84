"""Whose telephone a text line came from, and which place it speaks of."""

from collections.abc import Sequence
from dataclasses import dataclass

from county.domain.roster import Place, Roster
from county.domain.text_line.line import FILLERS, Unclear
from county.domain.text_line.place import looks_like_a_place, place_in, same_phone


@dataclass(frozen=True, slots=True)
class Speaker:
    """A telephone on the roster: `shown` names it, `places` are those it speaks for; none means any (a rover)."""

    shown: str
    places: tuple[str, ...] = ()


def speaker_of(number: str, roster: Roster) -> Speaker | None:
    """The place or the rover whose telephone this is; None for a number that is on no list."""
    places = tuple(place.place for place in roster.places if place.phone and same_phone(place.phone, number))
    if places:
        return Speaker(f"{', '.join(places)} by text", places)
    rover = next((each for each in roster.rovers if each.phone and same_phone(each.phone, number)), None)
    return Speaker(f"{rover.rover} by text") if rover else None


def spoken_of(words: Sequence[str], speaker: Speaker, roster: Roster) -> tuple[Place, list[str]]:
    """The place a line speaks of and the words behind it; a place's own telephone may leave it out. Raises Unclear."""
    at = next((n for n, word in enumerate(words) if word.casefold() not in FILLERS), 0)
    place, took = place_in(words[at:], roster)
    if place is not None:
        if speaker.places and place.place not in speaker.places:
            raise Unclear(f"this telephone speaks for {' and '.join(speaker.places)} only")
        return place, list(words[at + took :])
    if words[at:] and looks_like_a_place(words[at], roster):
        raise Unclear(f'there is no place "{words[at][:20]}"')
    if len(speaker.places) != 1:
        raise Unclear("begin with the place")
    return roster.place_by_id[speaker.places[0]], list(words)
