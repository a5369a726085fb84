"""`python -m tests.notices.nursery URL PORT`: for each line read it starts a sender of its own and says its process id.

Everything is loaded before, so that a sender that is killed is followed by the next within milliseconds.
"""

import os
import sys
import time
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

from county.clock import Clock
from county.domain.effects import Effect
from county.domain.exception_kinds import EXCEPTION_KINDS
from county.domain.plan import Contact, Plan
from county.following import Following
from county.notices.channels import fault
from county.settings import Settings
from county.store.engine import make_engine
from county.telling import Watch
from county.wiring import Office
from ingest.clock_loop import turn as clock_turn
from ingest.notice_loop import Sender
from tests.builders import after
from tests.notices.an_office import QUICK, the_plan
from tests.told import a_rung

PEOPLE, KINDS = 25, tuple(EXCEPTION_KINDS)[:40]
LOOKS_EVERY, SENDS_EVERY = 0.5, 0.05
"""Seconds between two looks at the clock, and between two turns of sending: shorter than in the real loops."""
PATIENT = replace(QUICK, tries=1_000, timeout=timedelta(seconds=2))


def plan_behind(address: str) -> Plan:
    """Twenty-five leads, each told at once of every kind of trouble that danger comes with: a message each."""
    people = [Contact(f"Person {n}", ("lead",), address) for n in range(1, PEOPLE + 1)]
    return the_plan(a_rung(0, effect=Effect.DANGER), people=people)


def send(url: str, address: str) -> None:
    """Watch the clock and send until killed; nothing of the database was open where this process was forked."""
    settings = Settings(Path(), url, Path(), sending=PATIENT)
    office = Office(settings, Clock(after(61), speed=0), plan_behind(address), make_engine(url))
    sender, follower, watch = Sender(office), Following(office), Watch()
    due = 0.0
    while True:
        if time.monotonic() >= due:
            clock_turn(office, follower, watch)
            due = time.monotonic() + LOOKS_EVERY
        sender.turn()
        time.sleep(SENDS_EVERY)


def main(url: str, address: str) -> None:
    assert fault(address, {}) == ""
    print("ready", flush=True)
    for _ in sys.stdin:
        child = os.fork()
        if child == 0:
            send(url, address)
        print(child, flush=True)
        os.waitpid(child, 0)


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2])
