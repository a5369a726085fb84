"""The door's own pages, made on the server and needing no script."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.responses import Response

from county.domain.plan import Plan
from dashboard import words
from dashboard.layout import CAUTIONS
from dashboard.sign_in.guard import LOOK

_HERE = Path(__file__).parent
POLICY = "; ".join(
    (
        "default-src 'none'",
        "style-src 'self'",
        "img-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    )
)
GUARDS: Mapping[str, str] = MappingProxyType(
    {
        "content-security-policy": POLICY,
        "cache-control": "no-store",
        # not no-referrer: a browser would then send forms without their origin
        "referrer-policy": "same-origin",
        "x-content-type-options": "nosniff",
        "x-frame-options": "DENY",
        "cross-origin-opener-policy": "same-origin",
    }
)


@cache
def _templates() -> Environment:
    return Environment(
        loader=FileSystemLoader(_HERE / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def page(template: str, plan: Plan, status: int = 200, **said: object) -> Response:
    """One page by its template, with what it says."""
    html = (
        _templates()
        .get_template(f"{template}.html")
        .render(
            county=plan.election.county,
            election=plan.election.name,
            rehearsal=plan.election.rehearsal,
            look=LOOK,
            call_911=words.CALL_911,
            cautions=CAUTIONS[1:],
            **said,
        )
    )
    return Response(html, status, GUARDS, "text/html; charset=utf-8")


@cache
def look() -> bytes:
    """The pages' style."""
    return (_HERE / "look.css").read_bytes()
