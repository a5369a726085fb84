"""What a row's place is on election day: a polling place, a vote centre, or nothing of the day."""

import re
from collections.abc import Mapping
from enum import StrEnum

from county.roster_files.header_words import header_words


class Sort(StrEnum):
    """The sorts of place a list may hold, as they are said to a person."""

    POLLING_PLACE = "a polling place"
    VOTE_CENTRE = "a vote centre"
    EARLY = "for early voting"
    DROP_BOX = "a drop box"
    BY_MAIL = "by mail"


_YES = re.compile(r"y|yes|true|t|x|1|1\.0|✓", re.IGNORECASE)
_DROP_BOX = re.compile(r"\bdrop[ -]?(?:box|off)|\bballot (?:box|drop)\b", re.IGNORECASE)
_EARLY = re.compile(r"\bearly\b|\badvance\b|\babsentee\b|\bEV\b", re.IGNORECASE)
_THE_DAY = re.compile(r"election[ -]?day|\bED\b|both|polling place|day of", re.IGNORECASE)
_VOTE_CENTRE = re.compile(r"\bvot(?:e|ing) cent(?:er|re)\b", re.IGNORECASE)
_EVERYONE = re.compile(r"all|any|all precincts|any precincts?|county[ -]?wide|all county|entire county", re.IGNORECASE)
_BY_MAIL = re.compile(
    r"(?:all[ -]?)?mail(?:[ -]?in)?(?:[ -]?ballots?)?(?:[ -]?only)?(?: precinct)?|(?:vote[ -]?)?by[ -]?mail(?: only)?"
    r"|no polling (?:place|location)|permanent mail(?:-in)?",
    re.IGNORECASE,
)


def sort_of(values: Mapping[str, str], columns: Mapping[str, tuple[str, ...]]) -> Sort:
    """The sort of a row's place, from what the list says of it and, where it says nothing, from its name."""
    kind, name = values.get("kind", ""), values.get("name", "")
    if _YES.fullmatch(values.get("mail_only", "")) or _BY_MAIL.fullmatch(values.get("mail_only", "")):
        return Sort.BY_MAIL
    if _BY_MAIL.fullmatch(name) or _BY_MAIL.fullmatch(kind) or _BY_MAIL.fullmatch(values.get("address", "")):
        return Sort.BY_MAIL
    of_header = _by_header(kind, columns)
    if of_header is not None:
        return of_header
    for said in (kind, name):
        if _DROP_BOX.search(said) and not _THE_DAY.search(said):
            return Sort.DROP_BOX
        if _EARLY.search(said) and not _THE_DAY.search(said):
            return Sort.EARLY
    everyone = _EVERYONE.fullmatch(values.get("precinct", "")) or _EVERYONE.fullmatch(values.get("precincts", ""))
    return Sort.VOTE_CENTRE if everyone or _VOTE_CENTRE.search(kind) else Sort.POLLING_PLACE


def _by_header(kind: str, columns: Mapping[str, tuple[str, ...]]) -> Sort | None:
    """A column called "Early voting" or "Drop box" says yes or no."""
    words = header_words(columns["kind"][0]) if "kind" in columns else ""
    if not _YES.fullmatch(kind):
        return None
    return Sort.DROP_BOX if words.startswith("drop") else Sort.EARLY if words.startswith("early") else None
