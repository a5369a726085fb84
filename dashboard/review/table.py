"""A plain table of a subject: heads, rows, and that there are more than are shown."""

from collections.abc import Sequence

from dashboard import words
from dashboard.markup import Markup, tag, text

MOST = 200
Row = Sequence[Markup]


def table(heads: Sequence[str], rows: Sequence[Row], *, label: str, most: int = MOST) -> Markup:
    """The rows under their heads, the first cell of each naming it; at most so many, and then how many are left out."""
    head = tag("tr", *(tag("th", text(name), scope="col") for name in heads))
    body = [tag("tr", tag("th", row[0], scope="row"), *(tag("td", cell) for cell in row[1:])) for row in rows[:most]]
    drawn = tag("table", tag("thead", head), tag("tbody", *body), cls="pr-table", aria_label=label)
    left = len(rows) - most
    more = f"The first {most:,}; {words.counted(left, 'other row')}: in the exported record." if left > 0 else ""
    return tag("div", drawn, cls="pr-wide", tabindex="0", role="region", aria_label=label) + (
        tag("p", text(more), cls="pr-note") if more else ""
    )


def cells(*values: object) -> list[Markup]:
    """Values as cells; None and nothing are empty."""
    return [text("" if value is None else f"{value:,}" if isinstance(value, int) else value) for value in values]
