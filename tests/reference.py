"""Reference files that are not part of the project: found through REFERENCE_DATA, and skipped aloud where absent."""

import os
from pathlib import Path

import pytest

_ROOT = Path(__file__).resolve().parents[1]


def reference_file(name: str) -> Path:
    """The file of this name in the folder REFERENCE_DATA names (beside the project where it names none)."""
    folder = Path(os.environ.get("REFERENCE_DATA") or _ROOT.parent / "shared" / "reference")
    file = folder / name
    if not file.is_file():
        pytest.skip(f"REFERENCE_DATA has no {name}")
    return file
