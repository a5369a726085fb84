"""A county with rovers for the tests of this folder."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.ingest.rovers_page.a_county import County, a_county


@pytest.fixture
def county(tmp_path: Path) -> Iterator[County]:
    """A fresh one, half an hour after opening."""
    with a_county(tmp_path / "data") as running:
        yield running


@pytest.fixture(scope="module")
def shared_county(tmp_path_factory: pytest.TempPathFactory) -> Iterator[County]:
    """One for all tests of a file that leave nothing behind that another would mind."""
    with a_county(tmp_path_factory.mktemp("county") / "data") as running:
        yield running
