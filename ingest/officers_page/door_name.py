"""How the ledger names this door."""

DOOR = "sheet"
