"""What is true about the day: the domain, the ledger and the use cases of a county's election-day board."""
