"""Which passwords will do: long ones, whatever they are made of, that nobody would try first (NIST SP 800-63B-4)."""

import pytest

from county.domain.passwords import LONGEST, SHORTEST, must_do, normal
from county.errors import Refused


@pytest.mark.parametrize(
    "password",
    [
        "four words for a day",
        "aaaa bbbb cccc dddd e",
        "ＡＢＣ long enough now",
        "ключ от старой мельницы",
        "a" * 5 + "bcdefghijk",
        "x" * 190 + "abcdefghij",
        "Ann Lee keeps bees at home",
        "   spaces count as well   ",
    ],
)
def test_length_is_enough_and_no_kinds_of_letters_are_asked_for(password: str) -> None:
    must_do(password, "Ann Lee", "another one that was")


@pytest.mark.parametrize(
    ("password", "says"),
    [
        ("a" * (SHORTEST - 1), "at least 15"),
        ("a b" * LONGEST, "at most 200"),
        ("abababababababab", "different"),
        ("Ann Lee Ann Lee Ann", "more than your name"),
        ("password1234567890", "more than your name"),
        ("Pollrise-Election-2026!", "more than your name"),
        ("first one that was given", "another one"),
    ],
)
def test_what_anybody_would_try_first_will_not_do(password: str, says: str) -> None:
    with pytest.raises(Refused, match=says):
        must_do(password, "Ann Lee", "first one that was given")


def test_letters_that_look_alike_are_one() -> None:
    assert normal("ｐａｓｓ") == "pass"
    assert normal("e\u0301") == normal("é")
