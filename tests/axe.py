"""axe-core, the accessibility checker, from npm: fetched once into .venv, checked by its hash, run inside a page."""

import base64
import hashlib
import shutil
import subprocess
import sys
import tarfile
import tempfile
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page

VERSION = "4.14.1"
SHA512 = "FHfa+lmNjQZfJz1q8wKqIDwC6DExcHt/pkjNQb09a3NPjCKg2rhu5qb2S4r76ASyFNNtuFooJpZe37OgudVGtQ=="
WITHIN, SETTLED = 120, 2_000
KEPT = Path(sys.prefix) / "node" / f"axe-core-{VERSION}.min.js"
# every rule; the addresses of elements, at which nobody looks here, are left out for the time they take
RUN = "async () => (await axe.run(document, {resultTypes: ['violations'], selectors: false})).violations"
GRAVE = ("serious", "critical")


@cache
def axe_source() -> str:
    """The checker's own text. Skips the test, saying so, where it cannot be had."""
    if not KEPT.exists():
        _fetch()
    return KEPT.read_text(encoding="utf-8")


def faults(page: Page) -> list[str]:
    """Every serious or critical fault of the page as it is shown now: the rule, and the first elements it speaks of."""
    return _faults(page) and _when_it_has_settled(page)


def _when_it_has_settled(page: Page) -> list[str]:
    """The faults that are still there a little later: a chart has its words a moment after its picture."""
    page.wait_for_timeout(SETTLED)
    return _faults(page)


def _faults(page: Page) -> list[str]:
    # within one document it need not be read again
    if not page.evaluate("'axe' in globalThis"):
        page.evaluate(axe_source())
    found: list[dict[str, Any]] = page.evaluate(RUN)
    return [
        f"{each['id']} ({each['impact']}): {'; '.join(str(node['html'])[:160] for node in each['nodes'][:3])}"
        for each in found
        if each["impact"] in GRAVE
    ]


def _fetch() -> None:
    npm = shutil.which("npm")
    if npm is None:
        pytest.skip("no npm, so axe-core cannot be fetched and no page is checked for accessibility")
    with tempfile.TemporaryDirectory() as folder:
        done = subprocess.run(
            [npm, "pack", f"axe-core@{VERSION}", "--silent"],
            cwd=folder,
            capture_output=True,
            text=True,
            timeout=WITHIN,
            check=False,
        )
        packed = next(Path(folder).glob("axe-core-*.tgz"), None)
        if packed is None:
            pytest.skip(f"npm could not fetch axe-core, so no page is checked for accessibility: {done.stderr[-200:]}")
        assert base64.b64encode(hashlib.sha512(packed.read_bytes()).digest()).decode() == SHA512, "another axe-core"
        with tarfile.open(packed) as archive:
            member = archive.extractfile("package/axe.min.js")
            assert member is not None
            source = member.read()
    KEPT.parent.mkdir(exist_ok=True)
    # two processes may fetch it at once: each puts a whole file in its place
    part = KEPT.with_suffix(f".{hashlib.sha256(folder.encode()).hexdigest()[:8]}")
    part.write_bytes(source)
    part.replace(KEPT)
