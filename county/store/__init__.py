"""What is kept: the ledger, what was set aside, the roster, keys and people, in SQLite or PostgreSQL."""
