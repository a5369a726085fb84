"""Lines and ballots on the board: where voters wait, where ballots run out, and of which places neither is known."""
