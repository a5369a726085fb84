"""A running endpoint for the tests of the doors."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.ingest.an_office import House, a_house
from tests.ingest.phones import new_phone as new_phone


@pytest.fixture
def house(tmp_path: Path) -> Iterator[House]:
    """A fresh office with its endpoint running."""
    with a_house(tmp_path / "data") as running:
        yield running


@pytest.fixture(scope="module")
def shared_house(tmp_path_factory: pytest.TempPathFactory) -> Iterator[House]:
    """One endpoint for all tests of a file that leave nothing behind that another would mind."""
    with a_house(tmp_path_factory.mktemp("office") / "data") as running:
        yield running
