"""Pages as PDF by Typst: nothing is fetched, no font of the machine is used, the same words give the same bytes.

Each document is typeset in a process of its own, because the typesetter keeps what it has laid out for as long as its
process lives: a big county's volumes would need gigabytes together, and need a few hundred megabytes one by one.
"""

import json
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Literal

_HERE = Path(__file__).parent


class CannotBeTypeset(RuntimeError):
    """The typesetter would not make the document: a fault of the program, not of what it was told."""


def pdf(page: str, told: Mapping[str, object]) -> bytes:
    """The page of this name, such as `report`, as a PDF of what is told. Raises CannotBeTypeset."""
    words = json.dumps(told, ensure_ascii=False).encode()
    done = subprocess.run([sys.executable, "-m", __name__, page], input=words, capture_output=True, check=False)
    if done.returncode:
        raise CannotBeTypeset(f"{page}: {done.stderr.decode(errors='replace').strip()[-2_000:]}")
    return done.stdout


def compiled(page: str, told: str, form: Literal["pdf", "png"] = "pdf", ppi: float = 100) -> list[bytes]:
    """The same in this process; `told` is JSON. A PDF is one, pictures are one a page."""
    import typst

    made: object = typst.compile(
        _HERE / f"{page}.typ",
        root=_HERE,
        format=form,
        ppi=ppi,
        ignore_system_fonts=True,
        timestamp=0,
        # it goes in as data, so that no text in it can be taken for a command of the typesetter
        sys_inputs={"told": told},
    )
    return [each for each in (made if isinstance(made, list) else [made]) if isinstance(each, bytes)]


if __name__ == "__main__":
    sys.stdout.buffer.write(compiled(sys.argv[1], sys.stdin.buffer.read().decode())[0])
