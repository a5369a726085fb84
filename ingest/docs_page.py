"""The page at /docs: the endpoint described for people, made here, loading nothing from anywhere."""

from collections.abc import Iterator, Mapping
from html import escape
from typing import Any

STYLE = """
:root { color-scheme: light dark; font: 16px/1.5 system-ui, sans-serif; }
body { max-width: 60rem; margin: 2rem auto; padding: 0 1rem; }
h2 { margin-top: 2.5rem; border-top: 1px solid #8886; padding-top: 1rem; }
code, pre { font-family: ui-monospace, monospace; }
pre { padding: .75rem 1rem; border: 1px solid #8886; border-radius: 4px; overflow-x: auto; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: top; padding: .3rem .6rem .3rem 0; border-bottom: 1px solid #8886; }
"""
EXAMPLE = """{"key": "p014-0541-zero", "place": "P014", "kind": "step", "step": "zero-report",
 "happened_at": "2026-11-03T05:41:00-06:00", "device": "SC-0141",
 "public_counter": 0, "protective_counter": 48210, "copies": 3, "signers": 3}"""
CAUTIONS = (
    "Danger to anyone? Call 911 first. This board does not call 911.",
    "Operational reports, not results. No field holds a vote for anyone.",
    "Count people, do not name them. What is written may become public.",
)

Described = Mapping[str, Any]


def docs_page(described: Described) -> str:
    """The whole page from the description that programs read."""
    title = escape(described["info"]["title"])
    return "".join(
        [
            f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{title}</title>',
            f'<meta name="viewport" content="width=device-width"><style>{STYLE}</style></head><body>',
            f"<h1>{title}</h1>",
            *(f"<p>{escape(caution)}</p>" for caution in CAUTIONS),
            "<p>Send your key as <code>Authorization: Bearer KEY</code>. A place’s key reports for that place and "
            "reads it; a desk key reports for any and reads all. "
            'For programs: <a href="openapi.json">openapi.json</a>.</p>',
            *_operations(described),
            "<h2>Fields of a report</h2>",
            f"<pre>{escape(EXAMPLE)}</pre>",
            *_fields(described["components"]["schemas"]["Report"]),
            "</body></html>",
        ]
    )


def _operations(described: Described) -> Iterator[str]:
    for path, methods in described["paths"].items():
        for method, operation in methods.items():
            yield f"<h2><code>{method.upper()} {escape(path)}</code></h2>"
            yield f"<p>{escape(operation.get('description', ''))}</p>"
            yield from _parameters(operation.get("parameters", ()))
            yield "<table><tr><th>Status</th><th>Meaning</th></tr>"
            for status, answer in operation["responses"].items():
                yield f"<tr><td>{escape(status)}</td><td>{escape(answer['description'])}</td></tr>"
            yield "</table>"


def _parameters(parameters: list[Described]) -> Iterator[str]:
    if parameters:
        yield "<table><tr><th>Parameter</th><th>Meaning</th></tr>"
        for parameter in parameters:
            says = escape(parameter.get("description", "Part of the path."))
            yield f"<tr><td><code>{escape(parameter['name'])}</code></td><td>{says}</td></tr>"
        yield "</table>"


def _fields(report: Described) -> Iterator[str]:
    yield "<table><tr><th>Field</th><th>Value</th><th>Meaning</th></tr>"
    for name, field in report["properties"].items():
        value = " or ".join(field["enum"]) if "enum" in field else field.get("format", field["type"])
        says = escape(field.get("description", ""))
        yield f"<tr><td><code>{escape(name)}</code></td><td>{escape(value)}</td><td>{says}</td></tr>"
    yield "</table>"
