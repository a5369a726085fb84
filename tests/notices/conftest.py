"""The store's two databases for the tests of notices too."""

from tests.store.conftest import database_url, postgres_server, sqlite_template

__all__ = ["database_url", "postgres_server", "sqlite_template"]
