"""A whole sheet filled in on a bad day: the signal goes and comes at random, and twice the battery dies."""

import re
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from random import Random
from typing import Any

from playwright.sync_api import Page, Playwright, expect

from tests.ingest.officers_page.a_county import County
from tests.ingest.officers_page.a_real_phone import RealPhone
from tests.ingest.officers_page.by_hand import kept_for_no_signal, name_shown, type_in, what_is_found
from tests.ingest.officers_page.wire import Wire

STEPS = 21
DEATHS = 2
LONGEST_ACT = 60
SLACK = 0.05
_DONE = re.compile(r"\bdone\b")


@dataclass
class Day:
    """What was done at one place, in order, and how often what went wrong."""

    place: str
    seed: int
    done: dict[str, tuple[float, float]] = field(default_factory=dict)
    cuts: int = 0
    deaths: int = 0
    last: str = ""


def a_bad_day(playwright: Playwright, county: County, memory: Path, place: str, seed: int) -> Day:
    """Fill in the whole sheet of a place. Nothing is asserted of the ledger yet."""
    rng, day = Random(seed), Day(place, seed)
    wire = Wire(county.house.port)
    phone = RealPhone(playwright, memory)
    try:
        _sign_in(phone.switch_on(), wire, county, place)
        # a browser writes its cookies down within half a minute, or when it is closed
        phone.switch_off()
        page = _opened(phone.switch_on(), f"http://127.0.0.1:{wire.port}/at/{place}")
        dies_before = sorted(rng.sample(range(1, STEPS), DEATHS))
        with _signal_that_goes_and_comes(wire, rng, day):
            while len(day.done) < STEPS:
                if day.deaths < DEATHS and len(day.done) >= dies_before[day.deaths]:
                    page = _dies(phone, wire, day, rng, page)
                else:
                    _one_step(page, day, rng)
        wire.mend()
        page.evaluate("dispatchEvent(new Event('online'))")
        expect(page.locator("#far")).to_contain_text(f"{STEPS} of {STEPS} steps are at the", timeout=30_000)
        expect(page.locator("#strip")).to_contain_text("Everything you told", timeout=30_000)
    finally:
        phone.battery_dies()
        wire.close()
    return day


def faults_of(day: Day, told: list[dict[str, Any]]) -> list[str]:
    """What is wrong in the ledger: lost, doubled, out of order, or at another time than it was done."""
    names = ["-".join(filter(None, (e["step"], e.get("device"), e.get("seal_position")))) for e in told]
    wanted = [name.removeprefix("t-") for name in day.done]
    faults = [f"{name} lost" for name in wanted if name not in names]
    faults += [f"{name} doubled" for name in set(names) if names.count(name) > 1]
    if not faults and names != wanted:
        faults.append(f"out of order: {names}")
    for name, entry in zip(names, told, strict=True):
        begun, ended = day.done.get(f"t-{name}", (0.0, 0.0))
        happened = datetime.fromisoformat(entry["happened_at"]).timestamp()
        if entry["stamp"] != "told" or not begun - SLACK <= happened <= ended + SLACK:
            faults.append(f"{name} at {entry['happened_at']} ({entry['stamp']}), done {_utc(begun)} to {_utc(ended)}")
    return faults


def _sign_in(page: Page, wire: Wire, county: County, place: str) -> None:
    """In the evening before, with signal: from then on the phone can start the sheet by itself."""
    page.goto(f"http://127.0.0.1:{wire.port}/at/{place}?k={county.keys[place]}")
    expect(page.locator("html[data-ready]")).to_be_attached()
    kept_for_no_signal(page, place)


@contextmanager
def _signal_that_goes_and_comes(wire: Wire, rng: Random, day: Day) -> Iterator[None]:
    over = threading.Event()
    moments = Random(rng.random())

    def come_and_go() -> None:
        while not over.wait(moments.uniform(0.02, 0.9)):
            wire.cut()
            day.cuts += 1
            if over.wait(moments.uniform(0.05, 1.2)):
                break
            wire.mend()

    thread = threading.Thread(target=come_and_go)
    thread.start()
    try:
        yield
    finally:
        over.set()
        thread.join()


def _dies(phone: RealPhone, wire: Wire, day: Day, rng: Random, page: Page) -> Page:
    """The battery dies, sometimes just after a tap; switched on again, with or without signal, the sheet is there."""
    address = f"http://127.0.0.1:{wire.port}/at/{day.place}"
    if rng.random() < 0.5:
        begun = time.time()
        task = name_shown(page)
        type_in(page, what_is_found(task))
        page.evaluate("(id) => { document.querySelector(`#${id} button.main`).click() }", task)
        time.sleep(rng.uniform(0, 0.03))
        phone.battery_dies()
        page = _opened(phone.switch_on(), address)
        # whether the tap was still kept is what the sheet says now; people go by that
        if "done" in (page.locator(f"#{task}").get_attribute("class") or "").split():
            day.done[task] = (begun, time.time())
    else:
        phone.battery_dies()
        page = _opened(phone.switch_on(), address)
    day.deaths += 1
    return page


def _opened(page: Page, address: str) -> Page:
    page.goto(address)
    expect(page.locator("html[data-ready]")).to_be_attached()
    return page


def _one_step(page: Page, day: Day, rng: Random) -> None:
    """The step that the sheet shows: typed, told, and seen to be kept. Now and then the page is loaded anew."""
    if rng.random() < 0.1:
        page.reload()
        expect(page.locator("html[data-ready]")).to_be_attached()
    task = name_shown(page)
    if task in day.done:
        page.get_by_role("link", name="Next step").click()
        task = name_shown(page)
    assert task.startswith("t-"), f"{task} is shown after {list(day.done)}"
    assert task not in day.done, f"{task} is asked for again"
    begun = time.time()
    type_in(page, what_is_found(task))
    page.locator(f"#{task} button.main").click()
    expect(page.locator(f"#{task}")).to_have_class(_DONE, timeout=LONGEST_ACT * 1_000)
    day.done[task] = (begun, time.time())
    expect(page.locator(f"#{task}")).to_be_hidden(timeout=LONGEST_ACT * 1_000)


def _utc(seconds: float) -> str:
    return datetime.fromtimestamp(seconds, UTC).isoformat()
