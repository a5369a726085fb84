"""The sheet filled in as people do: look at what it shows, type what the device in front of you says, tap."""

from collections.abc import Mapping
from datetime import date

from playwright.sync_api import Locator, Page, expect

from tests.ingest.officers_page.a_county import PROTECTIVE, seal_number

ELECTION_DAY = date(2026, 11, 3)


def signed_in(page: Page, way_in: str) -> Page:
    """Open the sheet by the card's address and wait until its script has begun."""
    page.goto(way_in)
    expect(page.locator("html[data-ready]")).to_be_attached()
    return page


def kept_for_no_signal(page: Page, place: str) -> None:
    """Wait until the phone could start this place's sheet by itself."""
    page.evaluate(
        """async (place) => {
            await navigator.serviceWorker.ready;
            for (let tries = 0; tries < 200; tries++) {
                if (await caches.match(`${location.origin}/at/${place}`)) return;
                await new Promise((done) => setTimeout(done, 25));
            }
            throw new Error('the page was not kept');
        }""",
        place,
    )


def section(page: Page) -> Locator:
    """The one section that is shown."""
    return page.locator("main > section:visible")


def name_shown(page: Page) -> str:
    """The anchor of what is shown."""
    return section(page).get_attribute("id") or ""


def what_is_found(task: str) -> Mapping[str, str]:
    """What officers at a place without trouble find and type at a step, by field; `seal_intact` is a tap."""
    step, _, rest = task.removeprefix("t-").partition("-SC-")
    device = f"SC-{rest[:4]}"
    if "-BM-" in step:
        step, _, rest = task.removeprefix("t-").partition("-BM-")
        device = f"BM-{rest[:4]}"
    position = rest[5:]
    number = device[3:6]
    found: Mapping[str, Mapping[str, str]] = {
        "staffed": {"officers_present": "5"},
        "site-ready": {"route_inches": "42", "door_inches": "34"},
        "seals-checked": {"seal_number": seal_number(device, position), "seal_intact": "Whole"},
        "pollbooks-ready": {"check_ins": "0"},
        "setup-confirmed": {"shown_date": f"{ELECTION_DAY:%B} {ELECTION_DAY.day}, {ELECTION_DAY.year}"},
        "zero-report": {
            "public_counter": "0",
            "protective_counter": f"{PROTECTIVE + int(number or 0):,}",
            "copies": "3",
            "signers": "3",
        },
        # nobody has voted, so that a sheet may be filled in from end to end within a minute
        "results-printed": {"public_counter": "0", "protective_counter": f"{PROTECTIVE + int(number or 0):,}"},
        "balanced": {"ballots_left": "88"},
    }
    return found.get(step, {})


def type_in(page: Page, fields: Mapping[str, str]) -> None:
    """Fill in the form that is shown."""
    here = section(page)
    for name, value in fields.items():
        if name == "seal_intact":
            here.locator(".choices label", has_text=value).locator("input").check()
        else:
            here.locator(f"[name='{name}']").fill(value)


def tap_done(page: Page) -> None:
    """The one large button."""
    section(page).locator("button.main").click()


def do_step(page: Page, task: str, **other: str) -> None:
    """One whole step: it is shown, it is filled in, it is told."""
    expect(page.locator(f"#{task}")).to_be_visible()
    type_in(page, {**what_is_found(task), **other})
    tap_done(page)
