"""A page's style and scripts, each under a name that changes with its content, so that phones may keep them."""

import hashlib
import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType

from starlette.requests import Request
from starlette.responses import Response

from county.errors import NotFound
from ingest.phone.answers import file

SHARED = Path(__file__).parent / "assets"
WORKER = "worker.js"
_TYPES: Mapping[str, str] = MappingProxyType(
    {".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".svg": "image/svg+xml"}
)
_KEPT = {"cache-control": "public, max-age=31536000, immutable"}


@dataclass(frozen=True, slots=True)
class Asset:
    """One file: its address, its content, its type, and how long a browser may keep it."""

    url: str
    body: bytes
    media_type: str
    headers: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Assets:
    """The files of one kind of page, `under` the path that its pages lie under, such as `/at/`.

    `files` are by the name they are asked for, `sheet.1a2b3c4d.css`; the worker keeps its plain name. `urls` are their
    addresses by plain name.
    """

    under: str
    files: Mapping[str, Asset]
    urls: Mapping[str, str]

    @classmethod
    def of(cls, under: str, store: str, folders: Iterable[Path]) -> "Assets":
        """Every file of these folders, read once; `store` is what the worker's store on the phone is called."""
        paths = [path for folder in folders for path in sorted(folder.iterdir()) if path.suffix in _TYPES]
        named = {path.name: _asset(under, path) for path in paths}
        worker = named.pop(WORKER)
        plain = {each: asset.url for each, asset in named.items()}
        found = {asset.url.rpartition("/")[2]: asset for asset in named.values()}
        files = {**found, WORKER: _worker(worker, under, store, plain)}
        return cls(under, MappingProxyType(files), MappingProxyType({**plain, WORKER: f"{under}-/{WORKER}"}))

    async def answer(self, request: Request) -> Response:
        """One of the files; needs no key, because there is nothing of the county in it."""
        found = self.files.get(request.path_params["name"])
        if found is None:
            raise NotFound(f"nothing is at {request.url.path[:200]}")
        return file(request, found.body, found.media_type, found.headers)


def _asset(under: str, path: Path) -> Asset:
    body = path.read_bytes()
    mark = hashlib.sha256(body).hexdigest()[:8]
    return Asset(f"{under}-/{path.stem}.{mark}{path.suffix}", body, _TYPES[path.suffix], _KEPT)


def _worker(worker: Asset, under: str, store: str, kept: Mapping[str, str]) -> Asset:
    """The worker with what it keeps at its head; it may answer for every page under the path."""
    head = {"UNDER": under, "STORE": store, "KEPT": sorted(kept.values())}
    said = "".join(f"const {each} = {json.dumps(value)};\n" for each, value in head.items())
    headers = {"cache-control": "no-cache", "service-worker-allowed": under}
    return Asset(f"{under}-/{WORKER}", said.encode() + worker.body, worker.media_type, headers)
