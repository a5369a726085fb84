"""Everything for the first load of a sheet is under 100 kB, unpacked, also for the place with the most devices."""

import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from county.domain.roster import Device, Roster, Seal
from tests.ingest.officers_page.a_county import County, a_county, a_phone, a_roster
from tests.roster_lists import read_tables

SAMPLE = Path(__file__).parents[3] / "sample_data"
LARGEST = 100_000


def the_sample() -> tuple[Roster, str]:
    """The sample county, and its place with the most seals to look at."""
    roster, problems = read_tables(
        [SAMPLE / f"{table}.csv" for table in ("places", "precincts", "devices", "seals", "rovers")]
    )
    assert not problems
    return roster, max(
        roster.devices_at, key=lambda place: sum(_seals(roster, each) for each in roster.devices_at[place])
    )


def _seals(roster: Roster, device: Device) -> int:
    return 1 + len(roster.seals_on.get(device.device, {}))


def eight_devices() -> tuple[Roster, str]:
    """A place with five scanners of two seals each and three ballot-marking devices of one."""
    kinds = [("scanner", ("front", "auxiliary"))] * 5 + [("bmd", ("front",))] * 3
    devices = tuple(Device(f"D-{n}", "P014", kind, protective_counter=n) for n, (kind, _) in enumerate(kinds))
    seals = tuple(Seal(f"D-{n}", at, f"90{n}{len(at)}") for n, (_, where) in enumerate(kinds) for at in where)
    return replace(a_roster(), devices=devices, seals=seals), "P014"


@pytest.fixture(scope="module", params=[the_sample, eight_devices])
def large(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[County, str]]:
    roster, place = request.param()
    with a_county(tmp_path_factory.mktemp("large") / "data", roster=roster) as county:
        yield county, place


def test_everything_for_the_first_load_is_under_100_kb(large: tuple[County, str]) -> None:
    county, place = large
    phone = a_phone(county, place)
    page = phone.get().text
    paths = [f"/at/{place}", *re.findall(r'(?:src|href)="(/at/-/[^"]+)"', page)]
    assert len(paths) == 6
    sizes = {path: int(phone.ask("HEAD", path, None, {}).headers["content-length"]) for path in paths}
    packed = [phone.ask("HEAD", path, None, {"accept-encoding": "gzip"}).headers["content-length"] for path in paths]
    print(f"{place}: {page.count('data-task')} steps, {sum(sizes.values()):,} bytes, {sum(map(int, packed)):,} packed")
    assert sum(sizes.values()) < LARGEST, sizes
    assert sum(map(int, packed)) < LARGEST / 4


def test_nothing_is_asked_for_beside_the_sheets_own_files(large: tuple[County, str]) -> None:
    county, place = large
    page = a_phone(county, place).get().text
    assert re.findall(r'(?:src|href|action)="(?!/at/|#|\?|tel:)([^"]*)"', page) == []
