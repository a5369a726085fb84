"""An office with its roster loaded, at 05:30 on election day."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from county import upkeep
from county.wiring import Office
from tests.an_office import ROSTER, an_office


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Office]:
    with an_office(tmp_path) as office:
        upkeep.load_roster(office, ROSTER)
        yield office
