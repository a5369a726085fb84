"""HTML from values, everything escaped: what people typed is text, never markup."""

from html import escape

Markup = str
"""Text that is HTML already."""


def tag(name: str, *children: Markup, cls: str = "", **attributes: str) -> Markup:
    """One element around children that are markup already."""
    given = {"class": cls, **{key.rstrip("_").replace("_", "-"): value for key, value in attributes.items()}}
    written = "".join(f' {key}="{escape(value)}"' for key, value in given.items() if value)
    return f"<{name}{written}>{''.join(children)}</{name}>"


def text(value: object) -> Markup:
    """A value as text."""
    return escape(str(value))


def number(value: object) -> Markup:
    """A number that is struck through when the page has grown old."""
    return tag("span", text(value), cls="pr-number")


def mark(of: str) -> Markup:
    """The shape that goes with a standing or an effect; the word beside it says the same."""
    return tag("span", cls="pr-mark", data_of=of, aria_hidden="true")


def quiet(value: object) -> Markup:
    """Text in the second voice."""
    return tag("span", text(value), cls="pr-quiet")
