"""The quick canonical text is the library's, for all that an entry can hold."""

import rfc8785
from hypothesis import given
from hypothesis import strategies as st

from county.domain.field_shapes import LARGEST
from county.domain.plain_canonical import plain_canonical

TEXT = st.text(st.characters(exclude_categories=["Cs"]), max_size=30)
NAMES = st.text(st.characters(min_codepoint=0x20, max_codepoint=0x7E), max_size=8)
VALUES = TEXT | st.integers(0, LARGEST) | st.booleans() | st.lists(TEXT, max_size=4)


@given(st.dictionaries(NAMES, VALUES | st.dictionaries(NAMES, VALUES, max_size=4), max_size=8))
def test_a_plain_form_is_written_as_the_library_writes_it(form: dict[str, object]) -> None:
    assert plain_canonical(form).encode() == rfc8785.dumps(form)  # type: ignore[arg-type]


def test_every_character_a_text_may_hold_is_written_as_the_library_writes_it() -> None:
    every = "".join(chr(code) for code in range(0x10FFFF + 1) if not 0xD800 <= code <= 0xDFFF)
    assert plain_canonical({"note": every}).encode() == rfc8785.dumps({"note": every})
