"""NAMES, what the headers of lists mean, by their words; to know one more header, add a row."""

import re
from collections.abc import Sequence

from county.roster_files.header_words import header_words

SURE, LOOSE, FAINT = 10, 6, 3
PLACE = r"(?:polling )?(?:place|center)"
OTHER = re.compile(
    r"\b(?:registration|absentee|mailing|candidate|contest|party|contact|email|mail address|fax|previous|old"
    r"|former|judge|inspector|clerk|worker|officer|notes?|comments?|remarks?|directions?|accessib\w*|url|website|photo)\b"
)
"""Headers that speak of something else, though other words in them may sound like ours."""

_NOT_THE_DAY = re.compile(r"\bearly\b|\bdrop ?(?:box|off)\b")

NAMES: tuple[tuple[str, str, int], ...] = (
    ("name", rf"{PLACE}(?: name)?|polling place building(?: name)?|building(?: name)?|polling name", SURE),
    ("name", r"name|polling|to polling|polling place description|place description|place building", LOOSE),
    ("name_address", rf"(?:{PLACE} )?name(?: street)? address", SURE),
    ("place", rf"{PLACE} number|polling number|building number", SURE),
    ("place", r"number", FAINT),
    ("address", rf"(?:{PLACE} )?(?:street |physical |full )?address(?: street)?(?: line)?(?: ?1)?", SURE),
    ("address", rf"(?:{PLACE} )?(?:house number|street(?: name| number| address)?|address ?1|line ?1)", LOOSE),
    (
        "city",
        rf"(?:{PLACE} |address )?(?:city|town|municipality|city town|village)(?: name| state| st)?(?: zip\w*)?",
        SURE,
    ),
    ("precinct", r"(?:polling )?precinct(?: ward| district)?(?: number)?|ward precinct", SURE),
    ("precinct", r"(?:ward|district|division|ed|polling district)(?: number)?|precinct split", FAINT),
    ("precinct", r"precinct (?:number name|name number)", SURE),
    ("precinct_name", r"(?:polling )?precinct (?:name|description)", SURE),
    ("precinct_name", r"(?:ward|district|division) name", FAINT),
    ("precincts", r"(?:.* )?precincts(?: .*)?", SURE),
    ("split", r"(?:precinct )?split(?: name| number)?", SURE),
    ("registered", r"(?:.* )?registered(?: voters| count)?(?: .*)?|(?:.* )?voters registered(?: .*)?", SURE),
    ("registered", r"(?:active |eligible |number |count )*voters(?: count| number)?|registration(?: count)?", LOOSE),
    ("hours", rf"(?:{PLACE} |polling )?hours(?: .*)?|opens closes|opens hours|(?:polling )?times?", SURE),
    ("opens", r"(?:.* )?opens(?: times?| hours| at)?", SURE),
    ("opens", r"(?:hours )?(?:start|from|begin)(?: time)?|start hours|hours from", LOOSE),
    ("closes", r"(?:.* )?closes(?: times?| hours| at)?", SURE),
    ("closes", r"(?:hours )?(?:end|to|until)(?: time)?|end hours|hours to", LOOSE),
    ("latitude", r"(?:.* )?latitude(?: .*)?", SURE),
    ("latitude", r"y(?: coord\w*)?", LOOSE),
    ("longitude", r"(?:.* )?longitude(?: .*)?", SURE),
    ("longitude", r"x(?: coord\w*)?", LOOSE),
    ("coordinates", r"(?:.* )?(?:coordinates?|coords?|latitude ?longitude|gps|geo(?:code|point|place)?)", SURE),
    ("phone", rf"(?:{PLACE} )?phone(?: number)?", SURE),
    ("zone", r"(?:rover )?(?:zone|area|region)(?: name| number)?", LOOSE),
    ("route", r"(?:delivery )?route(?: name| number)?", SURE),
    ("time_zone", r"time ?zone|timezone|tz", SURE),
    ("officers", r"(?:number of |no of )?(?:polling |precinct )?officers?(?: assigned| count)?", SURE),
    ("ballots_delivered", r"(?:polling )?ballots? (?:delivered|supplied|issued|ordered)(?: count)?", SURE),
    ("kind", rf"(?:{PLACE} |polling )?(?:type|kind|category)|early(?: polling)?|drop ?box", SURE),
    (
        "mail_only",
        r"(?:all |polling )?(?:mail|by mail)(?: only| polling| precinct)?|polling by mail|mail polling only",
        SURE,
    ),
    ("county", r"county(?: name)?|jurisdiction|locality(?: name)?", SURE),
    ("election_date", r"dt|date", SURE),
)
"""Field, the header's words (see header_words) that mean it, and how surely. To know one more header: add a row."""


def header_score(headers: Sequence[str]) -> int:
    """How many different fields a row of cells names, if it is a header."""
    fields = {each for header in headers if header.strip() for each, _ in named(header_words(header))}
    return len(fields)


def named(words: str) -> list[tuple[str, int]]:
    """The fields that a header of these words may mean, each with how surely."""
    if OTHER.search(words):
        return []
    found = [(each, sureness) for each, pattern, sureness in NAMES if re.fullmatch(pattern, words)]
    # hours and places of early voting and drop boxes are not the day's
    return [named for named in found if named[0] == "kind" or not _NOT_THE_DAY.search(words)]
