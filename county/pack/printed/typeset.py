"""Pages as PDF by Typst: nothing is fetched, no font of the machine is used, the same words give the same bytes.

Each document is typeset in a process of its own, because the typesetter keeps what it has laid out for as long as its
process lives: a big county's volumes would need gigabytes together, and need a few hundred megabytes one by one.
"""

import json
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

_HERE = Path(__file__).parent


class CannotBeTypeset(RuntimeError):
    """The typesetter would not make the document: a fault of the program, not of what it was told."""


@dataclass(frozen=True, slots=True)
class Typeset:
    """A document as PDF, and the page on which each place's day begins in it, counted from 1."""

    pdf: bytes
    begins: Mapping[str, int]


def pdf(page: str, told: Mapping[str, object]) -> bytes:
    """The page of this name, such as `report`, as a PDF of what is told. Raises CannotBeTypeset."""
    return typeset(page, told).pdf


def typeset(page: str, told: Mapping[str, object]) -> Typeset:
    """The same, with where each place's day begins. Raises CannotBeTypeset."""
    words = json.dumps(told, ensure_ascii=False).encode()
    done = subprocess.run([sys.executable, "-m", __name__, page], input=words, capture_output=True, check=False)
    if done.returncode:
        raise CannotBeTypeset(f"{page}: {done.stderr.decode(errors='replace').strip()[-2_000:]}")
    begins, _, made = done.stdout.partition(b"\n")
    return Typeset(made, dict(json.loads(begins)))


def compiled(page: str, told: str, form: Literal["pdf", "png"] = "pdf", ppi: float = 100) -> list[bytes]:
    """The same in this process; `told` is JSON. A PDF is one, pictures are one a page."""
    made: object = _compiler(page, told).compile(format=form, ppi=ppi, timestamp=0)
    return [each for each in (made if isinstance(made, list) else [made]) if isinstance(each, bytes)]


def _compiler(page: str, told: str) -> Any:
    import typst

    # it goes in as data, so that no text in it can be taken for a command of the typesetter
    return typst.Compiler(_HERE / f"{page}.typ", root=_HERE, ignore_system_fonts=True, sys_inputs={"told": told})


def _make(page: str, told: str) -> None:
    """Write where places begin, as a line of JSON, and then the PDF."""
    compiler = _compiler(page, told)
    made = compiler.compile(format="pdf", timestamp=0)
    # what is laid out already is not laid out again
    begins = json.loads(compiler.query("<begins>", field="value"))
    sys.stdout.buffer.write(json.dumps(begins).encode() + b"\n" + made)


if __name__ == "__main__":
    _make(sys.argv[1], sys.stdin.buffer.read().decode())
