"""wrong-election: the election date a device shows is not this election's."""

import pytest

from county.domain.effects import Effect
from county.domain.entries import Entry
from tests.builders import a_step, before
from tests.looking import found_by


def shows(date: str, device: str = "SC-0141") -> Entry:
    return a_step("setup-confirmed", before(22), device=device, shown_date=date)


@pytest.mark.parametrize(
    "date",
    [
        *("2026-11-03", "11/03/2026", "11/3/2026", "11/03/26", "11-03-2026", "11.3.26"),
        *("November 3, 2026", "NOVEMBER 03 2026", "Nov 3, 2026", "nov  3,2026"),
    ],
)
def test_the_day_itself_is_known_in_the_ways_devices_print_it(date: str) -> None:
    assert found_by("wrong-election", shows(date)) == []


@pytest.mark.parametrize(
    "date",
    ["2026-11-02", "11/03/2025", "11/04/2026", "March 3, 2026", "03/11/2026", "11/03", "2026", "general", "3 11 2026"],
)
def test_anything_else_raises_it(date: str) -> None:
    (finding,) = found_by("wrong-election", shows(date))
    assert finding.says == f"SC-0141 shows {date}, not 2026-11-03"
    assert (finding.expected, finding.found) == ("2026-11-03", date)
    assert (finding.effect, finding.device, finding.since) == (Effect.STOPPED, "SC-0141", before(22))


def test_without_a_device_it_is_some_device() -> None:
    assert found_by("wrong-election", shows("11/02/2026", ""))[0].says.startswith("a device shows")


def test_nothing_shown_raises_nothing() -> None:
    assert found_by("wrong-election", a_step("setup-confirmed", device="SC-0141")) == []
