"""The commands: parse, call the desk, say in one line what was done. Bad input is one line and exit code 2."""

from county.cli.run import main

__all__ = ["main"]
