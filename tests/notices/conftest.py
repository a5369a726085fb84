"""The store's two databases for the tests of notices too, and the channels loaded before anything is timed."""

import pytest

from county.notices.channels import fault
from tests.store.conftest import database_url, postgres_server, sqlite_template

__all__ = ["channels_loaded", "database_url", "postgres_server", "sqlite_template"]


@pytest.fixture(scope="session", autouse=True)
def channels_loaded() -> None:
    """The library of channels takes seconds to load on a busy machine, which is no channel's fault."""
    assert fault("json://host.example", {}) == ""
