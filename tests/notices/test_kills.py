"""A thousand notices owed, and whoever sends them killed at random twenty times: each arrives, under one number."""

import os
import signal
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from random import Random

import pytest

from county.domain.roster import Place, Roster
from tests.builders import after, an_exception
from tests.notices.an_office import an_office, ended, facts, report
from tests.notices.nursery import KINDS, PATIENT, PEOPLE, plan_behind
from tests.notices.receivers import Webhook, a_webhook, until
from tests.store.test_two_writers import ROOT

KILLS = 20


@contextmanager
def a_nursery(url: str, address: str) -> Iterator[subprocess.Popen[str]]:
    command = [sys.executable, "-W", "ignore", "-m", "tests.notices.nursery", url, address]
    nursery = subprocess.Popen(command, cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
    try:
        assert nursery.stdout is not None
        assert nursery.stdout.readline() == "ready\n"
        yield nursery
    finally:
        nursery.communicate(timeout=30)


def begin(nursery: subprocess.Popen[str]) -> int:
    """Start a sender; its process id."""
    assert nursery.stdin is not None
    assert nursery.stdout is not None
    nursery.stdin.write("another\n")
    nursery.stdin.flush()
    return int(nursery.stdout.readline())


def kill_some_time(sender: int, hook: Webhook, luck: Random, most: int) -> None:
    """Kill it after 1 to `most` more have arrived, or, where that is 0, while it writes down who is owed what."""
    if most:
        enough = len(hook.taken) + luck.randint(1, most)
        until(lambda: len(hook.taken) >= enough, 30)
    time.sleep(luck.uniform(0, 0.02 if most else 0.2))
    os.kill(sender, signal.SIGKILL)


@pytest.mark.skipif(os.name != "posix", reason="this system has no SIGKILL")
def test_each_of_a_thousand_notices_arrives_although_the_sender_is_killed_twenty_times(database_url: str) -> None:
    """A thousand and twenty on SQLite, where the office begins; fewer of both on PostgreSQL, for the time it takes."""
    kinds, kills = (KINDS, KILLS) if database_url.startswith("sqlite") else (KINDS[:20], 8)
    number, luck = PEOPLE * len(kinds), Random(20)
    roster = Roster(places=tuple(Place(f"P{n:03}", f"Hall {n}") for n in range(1, len(kinds) + 1)))
    troubles = [
        an_exception(kind, after(60), place=place.place, effect="danger")
        for kind, place in zip(kinds, roster.places, strict=True)
    ]
    with a_webhook() as hook, an_office(database_url, plan_behind(hook.address), 61, PATIENT, roster) as office:
        report(office, *troubles)
        with a_nursery(database_url, hook.address) as nursery:
            for kill in range(kills):
                kill_some_time(begin(nursery), hook, luck, 0 if kill < kills // 4 else number // kills - 10)
            assert len(set(hook.numbers)) < number, "all had arrived before the last kill"
            last = begin(nursery)
            until(lambda: ended(office) == number, 60)
            os.kill(last, signal.SIGKILL)
        owed = {str(fact["notice"]) for fact in facts(office, "owed")}
        assert len(owed) == number
        arrived = Counter(hook.numbers)
        assert set(arrived) == owed
        twice = sum(times - 1 for times in arrived.values())
        print(f"{number} owed, {kills} kills: {number} arrived, {twice} of them again under the same number")
        assert twice <= kills * PEOPLE
        assert sorted(str(fact["notice"]) for fact in facts(office, "arrived")) == sorted(owed)
        assert facts(office, "failed") == []
