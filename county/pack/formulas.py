"""No text becomes a formula: what a spreadsheet would take for one is made plain text before it is written."""

# what spreadsheets take for the beginning of a formula, also behind a tab or a line's end
_BEGINNINGS = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")


def may_be_a_formula(text: str) -> bool:
    """Whether a spreadsheet could take this text for a formula, or run on into one."""
    return text.startswith(_BEGINNINGS)


def as_text_only(text: str) -> str:
    """The text with an apostrophe before it where a spreadsheet could take it for a formula."""
    return f"'{text}" if may_be_a_formula(text) else text
