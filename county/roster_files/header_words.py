"""The words of a header, each in its one form, so that "Polling Pl. #", "Vote_Site_ID" and "SiteNo" read alike."""

import re
from functools import lru_cache

_SAME = {
    "number": ("no", "num", "nbr", "nr", "number", "id", "code", "key", "identifier"),
    "precinct": ("precinct", "pct", "prct", "prec", "precint", "pcnt"),
    "precincts": ("precincts", "pcts"),
    "polling": ("polling", "poll", "polls", "voting", "vote", "votes", "ballot"),
    "place": ("place", "site", "location", "loc", "locale", "facility", "venue", "pl", "plc"),
    "building": ("building", "bldg"),
    "center": ("center", "centre", "ctr"),
    "address": ("address", "addr", "add", "addresses"),
    "latitude": ("latitude", "lat"),
    "longitude": ("longitude", "lon", "lng", "long"),
    "phone": ("phone", "telephone", "tel", "ph", "phones", "cell"),
    "registered": ("registered", "reg", "regist", "rv"),
    "voters": ("voters", "voter", "vtrs", "electors"),
    "opens": ("open", "opens", "opening", "opened"),
    "closes": ("close", "closes", "closing", "closed"),
    "hours": ("hours", "hrs", "hour", "operhours", "openhours"),
    "time": ("time", "tm"),
    "name": ("name", "names", "nm", "title"),
    "street": ("street", "str", "st"),
    "description": ("description", "desc", "descr", "label"),
    "count": ("count", "total", "totals", "cnt", "qty"),
}
_FORM = {word: form for form, words in _SAME.items() for word in words}
_SMALL = {
    "the",
    "of",
    "for",
    "a",
    "an",
    "in",
    "on",
    "as",
    "is",
    "your",
    "this",
    "and",
    "or",
    "where",
    "day",
    "election",
}
_PARTS = (
    *_FORM,
    "full",
    "type",
    "city",
    "county",
    "zip",
    "state",
    "line",
    "date",
    "early",
    "mail",
    "drop",
    "box",
    "time",
)
_TOGETHER = re.compile(f"(?:{'|'.join(sorted((each for each in _PARTS if len(each) > 1), key=len, reverse=True))})")
_HUMP = re.compile(r"(?<=[a-z])(?=[A-Z])|(?<=[A-Z])(?=[A-Z][a-z])")
_WORD = re.compile(r"[^\W_]+|#")


@lru_cache(maxsize=1_024)
def header_words(header: str) -> str:
    """The header's words in their one form, parted by spaces; small words and repeated ones left out."""
    text = _HUMP.sub(" ", header.split("(")[0] if header.split("(")[0].strip() else header)
    said: list[str] = []
    for word in _WORD.findall(text.casefold()):
        for part in [word] if word in _FORM else _apart(word):
            form = "number" if part == "#" else _FORM.get(part, part)
            if form not in _SMALL and form not in said[-1:]:
                said.append(form)
    return " ".join(said) or " ".join(_WORD.findall(text.casefold()))


def _apart(word: str) -> list[str]:
    """The words that were run together, `pollingid`, where there is nothing else in it; or the word as it is."""
    parts = _TOGETHER.findall(word)
    return parts if len(parts) > 1 and "".join(parts) == word else [word]


def cleaned(header: str) -> str:
    """A header as it is shown and remembered: one line, single spaces."""
    return " ".join(header.split())
