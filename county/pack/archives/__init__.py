"""The archive of an election: one file, in formats that are read without this program, and opened by a later one."""
