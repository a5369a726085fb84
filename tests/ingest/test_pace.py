"""The pace: a bucket a sender, filling steadily; one sender's haste never costs another."""

import pytest

from county.errors import Busy
from ingest.pace import Pace


class Timer:
    """Seconds as the test says them."""

    def __init__(self) -> None:
        self.now = 0.0

    def __call__(self) -> float:
        return self.now


def test_a_burst_is_taken_and_then_one_each_time_the_bucket_has_filled() -> None:
    timer = Timer()
    pace = Pace(a_minute=60, timer=timer)
    for _ in range(60):
        pace.take("place:P014")
    with pytest.raises(Busy) as busy:
        pace.take("place:P014")
    assert busy.value.seconds == 1
    timer.now = 1.0
    pace.take("place:P014")
    with pytest.raises(Busy):
        pace.take("place:P014")


def test_another_sender_has_a_bucket_of_its_own() -> None:
    pace = Pace(a_minute=1, timer=lambda: 0.0)
    pace.take("place:P014")
    pace.take("place:P015")


def test_waiting_never_fills_a_bucket_over_its_brim() -> None:
    timer = Timer()
    pace = Pace(a_minute=2, timer=timer)
    timer.now = 3_600.0
    pace.take("place:P014")
    pace.take("place:P014")
    with pytest.raises(Busy) as busy:
        pace.take("place:P014")
    assert busy.value.seconds == 30
