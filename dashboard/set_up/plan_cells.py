"""Values of a plan as people read them, and the tables they stand in."""

from collections.abc import Iterable
from datetime import timedelta

from dashboard.markup import Markup, tag, text


def length(length_: timedelta) -> str:
    """A length of time: 45 min, 1 h 30 min, 20 s."""
    seconds = int(length_.total_seconds())
    hours, minutes, rest = seconds // 3600, seconds // 60 % 60, seconds % 60
    said = ((hours, "h"), (minutes, "min"), (rest, "s"))
    return " ".join(f"{number} {unit}" for number, unit in said if number) or "0 min"


def cell(value: object) -> str:
    """One value of a limit or a setting."""
    if isinstance(value, timedelta):
        return length(value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (int, float)):
        return f"{value:,}" if isinstance(value, int) else f"{value:g}"
    return str(value) or "none"


def table(names: Iterable[str], rows: Iterable[Iterable[str]]) -> Markup:
    """Rows of text under their headings."""
    head = tag("tr", *(tag("th", text(name), scope="col") for name in names))
    body = (tag("tr", *(tag("td", text(each)) for each in row)) for row in rows)
    return tag("table", tag("thead", head), tag("tbody", *body), cls="pr-entries pr-plain")
