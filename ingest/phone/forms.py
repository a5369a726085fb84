"""Forms as phones send them: one as a browser posts it, or several as the page's script does."""

from collections.abc import Mapping
from typing import TypeAlias
from urllib.parse import parse_qsl

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from county.errors import NotAllowed, Problem, Refused
from ingest.body import WHOLE, read_body, read_json, read_text

Form: TypeAlias = Mapping[str, str]

MOST_FIELDS = 300
MOST_FORMS = 50
LONGEST_VALUE = 4_000


async def posted_form(request: Request) -> Form:
    """One form as a browser posts it. Raises Refused where it has more fields than any form of ours."""
    body = await read_body(request)
    try:
        pairs = parse_qsl(body.decode("utf-8", "replace"), keep_blank_values=True, max_num_fields=MOST_FIELDS)
    except ValueError:
        raise Refused([]) from None
    return dict(pairs)


async def sent_forms(request: Request) -> list[Form]:
    """`{"forms": [{...}, ...]}` in the order they were filled in. Raises NotAllowed or Refused."""
    if request.headers.get("content-type", "").split(";")[0].strip() != "application/json":
        raise NotAllowed("forms from the page come as application/json")
    value = read_json(read_text(await read_body(request)))
    forms = value.get("forms") if isinstance(value, dict) else None
    if not isinstance(forms, list) or not 1 <= len(forms) <= MOST_FORMS:
        raise Refused([Problem("forms", f"must be a list of 1 to {MOST_FORMS} forms")])
    return [_form(form) for form in forms]


def _form(value: object) -> Form:
    if not isinstance(value, Mapping) or not all(isinstance(each, str) for pair in value.items() for each in pair):
        raise Refused([Problem(WHOLE, "a form is one object of names and texts")])
    if any(len(each) > LONGEST_VALUE for each in value.values()):
        raise Refused([Problem(WHOLE, f"a text is longer than {LONGEST_VALUE:,} characters")])
    return dict(value)


def see(address: str) -> Response:
    """Look at another address instead."""
    return RedirectResponse(address, 303, {"cache-control": "no-store", "referrer-policy": "same-origin"})
