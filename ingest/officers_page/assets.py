"""The sheet's own style and scripts, each under a name that changes with its content, so that phones may keep them."""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import MappingProxyType

AT = "/at/-"
_FOLDER = Path(__file__).parent / "assets"
_TYPES: Mapping[str, str] = MappingProxyType(
    {".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".svg": "image/svg+xml"}
)
_KEPT = {"cache-control": "public, max-age=31536000, immutable"}
WORKER = "worker.js"


@dataclass(frozen=True, slots=True)
class Asset:
    """One file: its address, its content, its type, and how long a browser may keep it."""

    url: str
    body: bytes
    media_type: str
    headers: Mapping[str, str]


@cache
def assets() -> Mapping[str, Asset]:
    """Every file by the name it is asked for: `sheet.1a2b3c4d.css`; the worker keeps its plain name."""
    named = {path.name: _asset(path) for path in sorted(_FOLDER.iterdir()) if path.suffix in _TYPES}
    worker = named.pop(WORKER)
    found = {asset.url.removeprefix(f"{AT}/"): asset for asset in named.values()}
    return MappingProxyType({**found, WORKER: _worker(worker, found)})


def urls() -> Mapping[str, str]:
    """The addresses for the pages: by plain file name."""
    plain = {f"{name.split('.')[0]}.{name.rsplit('.', 1)[1]}": asset.url for name, asset in assets().items()}
    return MappingProxyType(plain)


def _asset(path: Path) -> Asset:
    body = path.read_bytes()
    mark = hashlib.sha256(body).hexdigest()[:8]
    return Asset(f"{AT}/{path.stem}.{mark}{path.suffix}", body, _TYPES[path.suffix], _KEPT)


def _worker(worker: Asset, kept: Mapping[str, Asset]) -> Asset:
    """The worker with the list of what it keeps at its head; it may answer for every sheet."""
    files = json.dumps(sorted(asset.url for asset in kept.values()))
    headers = {"cache-control": "no-cache", "service-worker-allowed": "/at/"}
    return Asset(f"{AT}/{WORKER}", f"const KEPT = {files};\n".encode() + worker.body, worker.media_type, headers)
