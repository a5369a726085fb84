"""What pages drawn in Streamlit's test harness share: installed components are looked for once a process."""

from collections.abc import Iterator
from functools import cache
from unittest.mock import patch

import pytest
from streamlit.components.v2 import manifest_scanner


@pytest.fixture(scope="session", autouse=True)
def components_looked_for_once() -> Iterator[None]:
    """The harness reads what every installed package says of itself for each page, longer than a page is drawn."""
    found = cache(manifest_scanner.scan_component_manifests)
    with patch.object(manifest_scanner, "scan_component_manifests", found):
        yield
