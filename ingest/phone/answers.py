"""Pages and files as the sheet sends them: packed, strict about what a page may load, and never kept by a proxy."""

import gzip
import hashlib
from collections.abc import Mapping
from types import MappingProxyType

from starlette.requests import Request
from starlette.responses import Response

HTML, JSON = "text/html; charset=utf-8", "application/json"
POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self'",
        "connect-src 'self'",
        "worker-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    )
)
GUARDS: Mapping[str, str] = MappingProxyType(
    {
        "content-security-policy": POLICY,
        # not no-referrer: a browser would then send forms without their origin
        "referrer-policy": "same-origin",
        "x-content-type-options": "nosniff",
        "cross-origin-opener-policy": "same-origin",
        "permissions-policy": "camera=(), microphone=(), geolocation=()",
    }
)
_WORTH_PACKING = 500


def page(request: Request, html: str, status: int = 200, headers: Mapping[str, str] | None = None) -> Response:
    """An HTML page."""
    return _packed(request, html.encode(), HTML, status, {**GUARDS, "cache-control": "no-store", **(headers or {})})


def fresh_json(request: Request, text: str, headers: Mapping[str, str] | None = None) -> Response:
    """JSON with an entity tag; 304 where the asker has it already."""
    body = text.encode()
    tag = f'"{hashlib.sha256(body).hexdigest()[:32]}"'
    named = {**GUARDS, "cache-control": "no-store", "etag": tag, **(headers or {})}
    if request.headers.get("if-none-match") == tag:
        return Response(status_code=304, headers=named)
    return _packed(request, body, JSON, 200, named)


def file(request: Request, body: bytes, media_type: str, headers: Mapping[str, str]) -> Response:
    """A file of the sheet's own: style or script."""
    return _packed(request, body, media_type, 200, {"x-content-type-options": "nosniff", **headers})


def _packed(request: Request, body: bytes, media_type: str, status: int, headers: Mapping[str, str]) -> Response:
    named = dict(headers) | {"content-type": media_type, "vary": "accept-encoding"}
    if len(body) >= _WORTH_PACKING and "gzip" in request.headers.get("accept-encoding", ""):
        body = gzip.compress(body, 6, mtime=0)
        named["content-encoding"] = "gzip"
    return Response(body, status, named)
