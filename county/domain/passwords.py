"""Which passwords will do, after NIST SP 800-63B-4, 3.1.1.2: length alone, and none that anybody would guess.

At least 15 characters where a password is all that is asked for; long ones welcome; no rules of letters and digits;
compared with what is expected of this person and this program.
"""

import re
import unicodedata

from county.errors import Problem, Refused

SHORTEST = 15
LONGEST = 200
FEWEST_DIFFERENT = 5
_EXPECTED = ("password", "pollrise", "election", "welcome", "letmein", "qwertyuiop", "1234567890", "county")
_WORDS = re.compile(r"[\W_\d]+")


def normal(password: str) -> str:
    """The password as it is hashed: one form of letters that look alike (Unicode NFKC, as 800-63B advises)."""
    return unicodedata.normalize("NFKC", password)


def must_do(password: str, name: str, former: str) -> None:
    """Raises Refused, saying why, where a person's new password will not do; `former` is the one it replaces."""
    says = _wrong(normal(password), name, normal(former))
    if says:
        raise Refused([Problem("new", says)])


def _wrong(password: str, name: str, former: str) -> str:
    if len(password) < SHORTEST:
        return f"must have at least {SHORTEST} characters; several words with spaces between them are easy to keep"
    if len(password) > LONGEST:
        return f"must have at most {LONGEST} characters"
    if password == former:
        return "must be another one than before"
    if len(set(password.casefold())) < FEWEST_DIFFERENT:
        return f"must have at least {FEWEST_DIFFERENT} different characters"
    if not _beside(password, name):
        return "must be more than your name and words that anybody would try"
    return ""


def _beside(password: str, name: str) -> str:
    """What is left of a password without the person's name, expected words, digits and signs between."""
    left = password.casefold()
    for word in (name.casefold(), *name.casefold().split(), *_EXPECTED):
        left = left.replace(word, "") if len(word) > 2 else left
    return _WORDS.sub("", left)
