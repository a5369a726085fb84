"""What is kept of a password is an Argon2id hash with at least the parameters that OWASP asks for."""

import math

from argon2 import extract_parameters
from argon2.low_level import Type

from county.store.password_hashes import first_password, hashed, is_right

# OWASP Password Storage Cheat Sheet, Argon2id: a minimum of 19 MiB of memory, 2 iterations, 1 degree of parallelism
OWASP_MEMORY_KIB, OWASP_TIMES, OWASP_LANES = 19 * 1024, 2, 1


def test_the_parameters_are_owasps_minimum_or_more() -> None:
    used = extract_parameters(hashed("any password at all"))
    assert used.type is Type.ID
    assert used.memory_cost >= OWASP_MEMORY_KIB
    assert used.time_cost >= OWASP_TIMES
    assert used.parallelism >= OWASP_LANES
    assert used.hash_len >= 32
    assert used.salt_len >= 16


def test_a_hash_says_nothing_and_is_another_each_time() -> None:
    one, other = hashed("four words for a day"), hashed("four words for a day")
    assert one != other
    assert "words" not in one
    assert is_right("four words for a day", one)
    assert not is_right("four words for a Day", one)
    assert not is_right("four words for a day ", one)


def test_no_password_is_right_where_there_is_none_or_its_hash_is_broken() -> None:
    assert not is_right("", "")
    assert not is_right("four words for a day", "")
    assert not is_right("four words for a day", "$argon2id$broken")


def test_letters_that_look_alike_are_one_password() -> None:
    assert is_right("e\u0301lan vital, long", hashed("élan vital, long"))


def test_a_first_password_is_long_random_and_can_be_read_out() -> None:
    given = {first_password() for _ in range(200)}
    assert len(given) == 200
    letters = {letter for each in given for letter in each if letter != "-"}
    assert not letters & set("0O1lIi")
    assert all(len(each) == 29 for each in given)
    assert 25 * math.log2(len(letters)) > 112
