"""Column maps that were confirmed, kept in columns.toml beside the plan and found again by the headers they fit."""

import json
import tomllib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from county.errors import PollriseError
from county.roster_files.fields import FIELDS
from county.roster_files.header_words import cleaned

_HEAD = """# Which column of the county's own lists says what, as it was confirmed when they were loaded.
# A map is used for every list with the same headers, whatever its file is called. Change it or delete it freely:
# without its map a list's columns are guessed again, shown, and asked for.
"""


class BadMaps(PollriseError):
    """A columns.toml that cannot be read; names the file and the reason."""


@dataclass(frozen=True, slots=True)
class ColumnMap:
    """A confirmed map: the headers of the lists it is for, and field to the headers that say it."""

    name: str
    headers: tuple[str, ...]
    columns: Mapping[str, tuple[str, ...]]

    def fits(self, headers: Sequence[str]) -> bool:
        """Whether a list with these headers is one of those, in whatever order its columns stand."""
        return sorted(map(_same, headers)) == sorted(map(_same, self.headers))


def read_maps(text: str, file: str) -> tuple[ColumnMap, ...]:
    """The maps of a columns.toml. Raises BadMaps."""
    try:
        tables = tomllib.loads(text).get("columns", {})
    except tomllib.TOMLDecodeError as error:
        raise BadMaps(f"{file}: cannot be read: {error}") from None
    if not isinstance(tables, dict):
        raise BadMaps(f"{file}: columns must be tables: [columns.NAME]")
    return tuple(_map(name, table, file) for name, table in tables.items())


def write_maps(maps: Iterable[ColumnMap]) -> str:
    """The text of a columns.toml with these maps."""
    return _HEAD + "".join(_table(each) for each in maps)


def with_map(maps: Sequence[ColumnMap], new: ColumnMap) -> tuple[ColumnMap, ...]:
    """The maps with a new one, in the place of the one for the same headers; its name is made its own."""
    others = [each for each in maps if not each.fits(new.headers)]
    names = {each.name for each in others}
    name, number = new.name, 2
    while name in names:
        name, number = f"{new.name} {number}", number + 1
    return (*others, ColumnMap(name, new.headers, new.columns))


def _map(name: str, table: object, file: str) -> ColumnMap:
    at = f"{file}: [columns.{json.dumps(name)}]"
    if not isinstance(table, dict) or not _texts(table.get("headers")):
        raise BadMaps(f"{at}: headers must be a list of the list's headers")
    columns = {}
    for each, headers in table.items():
        if each == "headers":
            continue
        if each not in FIELDS:
            raise BadMaps(f'{at}: unknown field "{each}"; known are {", ".join(FIELDS)}')
        said = [headers] if isinstance(headers, str) else headers
        if not _texts(said):
            raise BadMaps(f"{at}: {each} must be a header, or a list of them")
        columns[each] = tuple(map(cleaned, said))
    return ColumnMap(name, tuple(map(cleaned, table["headers"])), columns)


def _texts(value: object) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(each, str) for each in value)


def _table(each: ColumnMap) -> str:
    lines = [f"\n[columns.{_text(each.name)}]", f"headers = [{', '.join(map(_text, each.headers))}]"]
    for name, headers in each.columns.items():
        said = _text(headers[0]) if len(headers) == 1 else f"[{', '.join(map(_text, headers))}]"
        lines.append(f"{name} = {said}")
    return "\n".join(lines) + "\n"


def _text(value: str) -> str:
    """A TOML basic string; it escapes as JSON does, and the delete character besides."""
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")


def _same(header: str) -> str:
    return cleaned(header).casefold()
