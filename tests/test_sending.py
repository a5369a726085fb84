"""How patiently notices are sent is a setting; a bad value names its variable, and an address is not repeated."""

from datetime import timedelta
from random import Random

import pytest

from county.errors import BadSetting
from county.sending import Sending
from county.settings import settings_from


def test_without_any_variable_a_notice_is_tried_for_about_ten_minutes() -> None:
    sending = settings_from({}).sending
    assert sending == Sending()
    luck = Random(1)
    waits = [sending.wait_after(tries, luck) for tries in range(1, sending.tries)]
    assert timedelta(minutes=4) < sum(waits, timedelta()) < timedelta(minutes=12)


def test_every_setting_of_sending_can_be_set() -> None:
    told = {
        "POLLRISE_NOTICE_TRIES": "3",
        "POLLRISE_NOTICE_FIRST_WAIT": "0.5",
        "POLLRISE_NOTICE_LONGEST_WAIT": "7",
        "POLLRISE_NOTICE_TIMEOUT": "9",
        "POLLRISE_NOTICE_BURST": "0",
        "POLLRISE_NOTICE_TO_LEAD": "json://host.example",
        "POLLRISE_NOTICE_TO_EMPTY": "",
    }
    assert settings_from(told).sending == Sending(
        tries=3,
        first_wait=timedelta(seconds=0.5),
        longest_wait=timedelta(seconds=7),
        timeout=timedelta(seconds=9),
        burst=timedelta(0),
        addresses={"LEAD": "json://host.example"},
    )


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("TRIES", "0"),
        ("TRIES", "-1"),
        ("TRIES", "many"),
        ("FIRST_WAIT", "5s"),
        ("LONGEST_WAIT", "-5"),
        ("TIMEOUT", "0"),
        ("TIMEOUT", "nan"),
        ("BURST", "1e9"),
    ],
)
def test_a_bad_value_of_sending_names_its_variable(name: str, value: str) -> None:
    with pytest.raises(BadSetting, match=f"^POLLRISE_NOTICE_{name} must be"):
        settings_from({f"POLLRISE_NOTICE_{name}": value})


def test_the_wait_stays_at_its_longest_however_often_it_was_tried() -> None:
    sending = Sending(first_wait=timedelta(seconds=5), longest_wait=timedelta(seconds=60))
    assert sending.wait_after(9_999, Random(1)) <= timedelta(seconds=60)
