"""The endpoint described for programs (OpenAPI 3.1): the fields of a report come from the table that intake reads."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from fastapi import FastAPI
from fastapi.openapi.utils import get_openapi

from county.domain.cases import Action
from county.domain.effects import Effect
from county.domain.entries import FIELDS, REPORT_KINDS, Field, Kind, Shape
from county.domain.field_shapes import LARGEST, TEXT_LENGTH, WORD_LENGTH
from county.domain.intake import KEY
from ingest.answer_models import ProblemDetails
from ingest.reports_door import MOST_IN_A_BATCH

Schema = dict[str, Any]

FORM = "application/x-www-form-urlencoded"

SHAPES: Mapping[Shape, Schema] = MappingProxyType(
    {
        Shape.WORD: {"type": "string", "maxLength": WORD_LENGTH},
        Shape.TEXT: {"type": "string", "maxLength": TEXT_LENGTH},
        Shape.NUMBER: {"type": "integer", "minimum": 0, "maximum": LARGEST},
        Shape.YES_NO: {"type": "boolean"},
        Shape.MOMENT: {"type": "string", "format": "date-time"},
        Shape.WORDS: {"type": "array", "items": {"type": "string"}},
    }
)
MEANINGS: Mapping[str, str] = MappingProxyType(
    {
        "step": "A key of the plan's steps.",
        "device": "The device spoken of.",
        "seal_position": "Where on the device the seal is.",
        "seal_number": "The number found on the seal.",
        "seal_intact": "Whether the seal was found whole.",
        "public_counter": "Ballots counted since the device was set up.",
        "protective_counter": "Ballots counted in the device's life.",
        "shown_date": "The election date as the device printed it.",
        "shown_precincts": "The precincts as the device printed them.",
        "exception": "A kind of trouble of the plan's list.",
        "effect": f"How it bears on voting: {', '.join(Effect)}.",
        "since": "When it began.",
        "voters_left": "How many voters left without voting: a count, no names.",
        "fallback": "What voters are offered meanwhile.",
        "ends": "True when the interruption is over.",
        "message": "The id of the message from the office that is acknowledged.",
        "role": "Who acknowledges it: a role at the place, no name.",
        "corrects": "The key of the report put right.",
        "reason": "Why it is put right.",
        "withdraw": "True where the report is taken back; it stays readable.",
        "note": "What else is to be said. Count people, do not name them.",
    }
)
_HAPPENED: Schema = {
    "type": "string",
    "format": "date-time",
    "description": "RFC 3339 with offset. Missing or without offset, the time of receipt counts, and is marked so.",
}
_KEY: Schema = {
    "type": "string",
    "pattern": f"^{KEY.pattern}$",
    "description": "The sender's own id. The same key with the same content is the same report.",
}
_PLACE: Schema = {"type": "string", "description": "A polling place, or a precinct that votes there."}


def _field(name: str, field: Field) -> Schema:
    kinds = "any kind" if set(field.kinds) == set(REPORT_KINDS) else ", ".join(field.kinds)
    said = MEANINGS.get(name, f"{name.replace('_', ' ').capitalize()}.")
    return SHAPES[field.shape] | {"description": f"{said} For: {kinds}; a correction may carry any."}


def report_schema() -> Schema:
    """One report: every field intake knows, and none it does not."""
    head: Schema = {
        "key": _KEY,
        "place": _PLACE,
        "kind": {"type": "string", "enum": [kind.value for kind in REPORT_KINDS]},
        "happened_at": _HAPPENED,
    }
    return {
        "type": "object",
        "required": ["key", "place", "kind"],
        "additionalProperties": False,
        "properties": head | {name: _field(name, field) for name, field in FIELDS.items()},
    }


def fields_of(kind: Kind) -> tuple[str, ...]:
    """The fields a report of this kind may carry beside key, place, kind and happened_at."""
    return tuple(name for name, field in FIELDS.items() if kind in field.kinds)


def describe(app: FastAPI) -> dict[str, Any]:
    """The description as FastAPI makes it from the routes, with the bodies that we read ourselves, and the key."""
    described = get_openapi(title=app.title, version=app.version, summary=app.summary, routes=app.routes)
    components = described.setdefault("components", {})
    components["securitySchemes"] = {"key": {"type": "http", "scheme": "bearer", "description": "A reporting key."}}
    components.setdefault("schemas", {}).update({"Report": report_schema(), "Batch": batch_schema()})
    problem = ProblemDetails.model_json_schema(ref_template="#/components/schemas/{model}")
    problem.pop("$defs")
    components["schemas"] |= {"Action": action_schema(), "ProblemDetails": problem}
    components["schemas"]["TextMessage"] = text_message_schema()
    for name in ("HTTPValidationError", "ValidationError"):
        components["schemas"].pop(name, None)
    return described


def batch_schema() -> Schema:
    """Up to 500 reports at once."""
    reports = {"type": "array", "maxItems": MOST_IN_A_BATCH, "items": ref("Report")}
    properties = {"reports": reports}
    return {"type": "object", "required": ["reports"], "additionalProperties": False, "properties": properties}


def action_schema() -> Schema:
    """What a person at the desk, or a rover, does with a case."""
    return {
        "type": "object",
        "required": ["key", "action"],
        "additionalProperties": False,
        "properties": {
            "key": _KEY,
            "action": {"type": "string", "enum": [action.value for action in Action]},
            "rover": SHAPES[Shape.WORD]
            | {
                "description": "Who goes; for `assign` and what rovers say: `accept`, `cannot`, `under-way`, `on-site`."
            },
            "suggested": SHAPES[Shape.WORD]
            | {"description": "Whom the board suggested; for `assign`. Another `rover` is a person's own choice."},
            "expected_at": SHAPES[Shape.MOMENT]
            | {"description": "When the rover is expected on site; for `assign`, `accept`, `under-way`."},
            "effect": {"type": "string", "enum": [effect.value for effect in Effect]},
            "note": SHAPES[Shape.TEXT] | {"description": "What else is to be said; for `cannot`, why not."},
            "happened_at": _HAPPENED,
        },
    }


def ref(name: str) -> Schema:
    """A pointer to a schema of the description."""
    return {"$ref": f"#/components/schemas/{name}"}


def text_message_schema() -> Schema:
    """A text message as a gateway passes it on."""
    text: Schema = {"type": "string"}
    return {
        "type": "object",
        "required": ["from", "body"],
        "properties": {
            "from": text | {"description": "The telephone it came from."},
            "body": text | {"description": "The message: `P014 open 0601`, `P014 help scanner jam`."},
            "id": text | {"description": "The gateway's own id of it, so that one delivered twice is taken once."},
        },
    }


def body(schema: Schema, media_type: str = "application/json") -> Schema:
    """A route's body that the route reads itself."""
    return {"requestBody": {"required": True, "content": {media_type: {"schema": schema}}}}
