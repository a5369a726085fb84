"""What is kept of a password: an Argon2id hash with its own salt, and nothing from which it could be read."""

import secrets
from functools import cache
from typing import Final

from argon2 import PasswordHasher, Type
from argon2.exceptions import InvalidHashError, VerificationError

from county.domain.passwords import normal

MEMORY_KIB: Final = 19_456
TIMES: Final = 2
LANES: Final = 1
"""Argon2id with 19 MiB, two passes, one lane: the minimum of the OWASP Password Storage Cheat Sheet."""
_LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"
_GROUPS, _EACH = 5, 5

_hasher = PasswordHasher(time_cost=TIMES, memory_cost=MEMORY_KIB, parallelism=LANES, type=Type.ID)


def hashed(password: str) -> str:
    """A hash of the password, with its parameters and salt in it."""
    return _hasher.hash(normal(password))


def is_right(password: str, kept: str) -> bool:
    """Whether this is the password behind a hash; takes as long, and says no, where `kept` is empty."""
    try:
        _hasher.verify(kept or _nobodys(), normal(password))
    except (VerificationError, InvalidHashError):
        return False
    return bool(kept)


@cache
def _nobodys() -> str:
    """What a try is compared with where there is no such person or no password, so that it takes as long."""
    return _hasher.hash(secrets.token_urlsafe(32))


def first_password() -> str:
    """A long random password that can be read out over a telephone: 123 bits, no letters that look alike."""
    return "-".join("".join(secrets.choice(_LETTERS) for _ in range(_EACH)) for _ in range(_GROUPS))
