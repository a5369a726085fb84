"""Where things stand in a plan file, so that a fault can be shown by its line."""

import re
from bisect import bisect_right
from collections.abc import Iterable

Path = tuple[str | int, ...]

_MASKED = re.compile(r'"""(?:\\[\s\S]|[^\\])*?"""' r"|'''[\s\S]*?'''" r'|"(?:\\.|[^"\\\n])*"' r"|'[^'\n]*'" r"|#[^\n]*")
_NAME = r"""(?:[A-Za-z0-9_-]+|"[^"\n]*"|'[^'\n]*')"""
_NAMES = rf"{_NAME}(?:[ \t]*\.[ \t]*{_NAME})*"
_STATEMENT = re.compile(
    rf"^[ \t]*(?:\[\[[ \t]*(?P<item>{_NAMES})[ \t]*\]\][ \t\r]*$"
    rf"|\[[ \t]*(?P<table>{_NAMES})[ \t]*\][ \t\r]*$"
    rf"|(?P<key>{_NAMES})[ \t]*=)",
    re.MULTILINE,
)


class PlanLines:
    """The line of every table and key of a text that is known to be TOML."""

    def __init__(self, text: str) -> None:
        masked = _MASKED.sub(_blank, text)
        starts = [0, *(found.end() for found in re.finditer("\n", masked))]
        self._lines: dict[Path, int] = {}
        self._counts: dict[Path, int] = {}
        above: Path = ()
        for found in _STATEMENT.finditer(masked):
            line = bisect_right(starts, found.start())
            if found["key"]:
                self._note((*above, *_split(found["key"])), line)
                continue
            above = self._next_item(found["item"]) if found["item"] else self._inside(_split(found["table"]))
            self._note(above, line)

    def line(self, *path: str | int) -> int:
        """The line (from 1) of what stands at this path, or of the nearest table around it that has one."""
        for length in range(len(path), 0, -1):
            if path[:length] in self._lines:
                return self._lines[path[:length]]
        return 1

    def _next_item(self, names: str) -> Path:
        *around, name = _split(names)
        path = (*self._inside(around), name)
        number = self._counts.get(path, 0)
        self._counts[path] = number + 1
        return (*path, number)

    def _inside(self, names: Iterable[str]) -> Path:
        """The path of these names, where a list of tables means its last one so far."""
        path: Path = ()
        for name in names:
            path = (*path, name)
            if path in self._counts:
                path = (*path, self._counts[path] - 1)
        return path

    def _note(self, path: Path, line: int) -> None:
        for length in range(1, len(path) + 1):
            self._lines.setdefault(path[:length], line)


def _blank(found: re.Match[str]) -> str:
    """Comments and texts of several lines lose their content but keep their line ends."""
    said = found[0]
    if said.startswith("#"):
        return ""
    return "\n" * said.count("\n") if said.startswith(('"""', "'''")) else said


def _split(names: str) -> list[str]:
    return [name.strip("\"'") for name in re.findall(_NAME, names)]
