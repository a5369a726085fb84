"""The endpoint's description: complete, made from the table that intake reads, and true of what is sent."""

import re
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from county.domain.entries import FIELDS
from tests.ingest.an_office import House, a_report


@pytest.fixture(scope="module")
def described(shared_house: House) -> dict[str, Any]:
    return dict(shared_house.ask("GET", "/openapi.json").body)


def validator(described: dict[str, Any], schema: dict[str, Any]) -> Draft202012Validator:
    return Draft202012Validator(schema | {"components": described["components"]})


def answer(described: dict[str, Any], path: str, method: str = "get", status: str = "200") -> Draft202012Validator:
    content = described["paths"][path][method]["responses"][status]["content"]
    return validator(described, next(iter(content.values()))["schema"])


def test_every_door_of_the_contract_is_described(described: dict[str, Any]) -> None:
    doors = {(method, path) for path, methods in described["paths"].items() for method in methods}
    assert doors == {
        ("post", "/reports"),
        ("get", "/picture"),
        ("get", "/cases"),
        ("post", "/cases/{case}/actions"),
        ("post", "/text"),
        ("get", "/ledger"),
        ("get", "/health"),
        ("get", "/metrics"),
    }


def test_every_pointer_leads_somewhere(described: dict[str, Any]) -> None:
    pointers = set(re.findall(r"'\$ref': '#/components/schemas/(\w+)'", str(described)))
    assert pointers == set(described["components"]["schemas"])


def test_the_fields_of_a_report_are_those_of_intake(described: dict[str, Any]) -> None:
    report = described["components"]["schemas"]["Report"]
    assert set(report["properties"]) == {"key", "place", "kind", "happened_at", *FIELDS}
    assert all(field.get("description") for field in report["properties"].values() if "enum" not in field)


@pytest.mark.parametrize(
    ("report", "good"),
    [
        (a_report(), True),
        (a_report(copeis=3), False),
        (a_report(public_counter=-1), False),
        (a_report(key="a b"), False),
    ],
)
def test_a_report_is_valid_where_intake_takes_it(
    described: dict[str, Any], shared_house: House, report: dict[str, object], good: bool
) -> None:
    schema = described["paths"]["/reports"]["post"]["requestBody"]["content"]["application/json"]["schema"]
    assert validator(described, schema).is_valid(report) is good
    assert (shared_house.post(report).status < 300) is good


def test_what_is_answered_is_what_is_described(described: dict[str, Any], house: House) -> None:
    kept = house.post(a_report(public_counter=3))
    answer(described, "/reports", "post", "201").validate(kept.body)
    answer(described, "/reports", "post", "200").validate(house.post({"reports": [a_report(), a_report(key="")]}).body)
    answer(described, "/reports", "post", "422").validate(house.post(a_report(key="")).body)
    for path in ("/picture", "/cases", "/ledger", "/health"):
        answer(described, path).validate(house.get(path).body)
    case = house.get("/cases").body[0]["case"]
    done = house.act(case, {"key": "a", "action": "acknowledge"})
    answer(described, "/cases/{case}/actions", "post", "201").validate(done.body)


def test_every_refusal_is_described_as_problem_details(described: dict[str, Any]) -> None:
    for methods in described["paths"].values():
        for operation in methods.values():
            for status, said in operation["responses"].items():
                assert status < "400" or "application/problem+json" in said["content"]


def test_the_page_for_people_loads_nothing_and_names_every_field(shared_house: House) -> None:
    reply = shared_house.ask("GET", "/docs")
    assert reply.status == 200
    assert reply.headers["content-type"] == "text/html; charset=utf-8"
    assert "default-src 'none'" in reply.headers["content-security-policy"]
    assert not re.search(r"<script|<link|src=|https?://|url\(", reply.text)
    assert all(f"<code>{name}</code>" in reply.text for name in FIELDS)
    assert "911" in reply.text


@pytest.mark.parametrize("path", ["/redoc", "/docs/oauth2-redirect"])
def test_the_framework_s_own_pages_are_not_there(shared_house: House, path: str) -> None:
    assert shared_house.ask("GET", path).status == 404
