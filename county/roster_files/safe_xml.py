"""XML read as it comes, with every trick refused that needs a document type: entities, external files, bombs."""

from collections.abc import Callable
from typing import IO
from xml.parsers import expat

from county.delimited import Unreadable

DEEPEST = 64
_AT_ONCE = 64 * 1024

Starts = Callable[[str, dict[str, str], int], None]
Ends = Callable[[str], None]


def read_xml(source: IO[bytes], starts: Starts, ends: Ends, text: Callable[[str], None]) -> None:
    """Call back for every element with its line, for its end, and for its text; names come without their prefix.

    Raises Unreadable for what is no XML, holds a document type, or is nested too deeply.
    """
    parser = expat.ParserCreate()
    depth = 0

    def started(name: str, attributes: dict[str, str]) -> None:
        nonlocal depth
        depth += 1
        if depth > DEEPEST:
            raise Unreadable(f"line {parser.CurrentLineNumber}: elements are nested more than {DEEPEST} deep")
        starts(_local(name), attributes, parser.CurrentLineNumber)

    def ended(name: str) -> None:
        nonlocal depth
        depth -= 1
        ends(_local(name))

    parser.StartElementHandler = started
    parser.EndElementHandler = ended
    parser.CharacterDataHandler = text
    parser.StartDoctypeDeclHandler = _refuse_document_type
    try:
        while piece := source.read(_AT_ONCE):
            parser.Parse(piece, False)
        parser.Parse(b"", True)
    except expat.ExpatError as error:
        raise Unreadable(f"line {error.lineno}: is no well-formed XML ({expat.ErrorString(error.code)})") from None
    except (LookupError, ValueError) as error:
        raise Unreadable(f"cannot be read as XML: {error}") from None


def check_xml(source: IO[bytes]) -> None:
    """Raise Unreadable where this XML is not safe to be handed on."""
    read_xml(source, lambda *_: None, lambda _: None, lambda _: None)


def _local(name: str) -> str:
    return name.rpartition(":")[2]


def _refuse_document_type(*_: object) -> None:
    raise Unreadable("holds a document type with entities of its own, which is not read: it may be an attack")
