"""What a rover's key opens at the endpoint: acting on its own cases, and nothing else."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from county.domain.senders import Sender
from county.errors import NotFound
from county.upkeep import issue_key, revoke_keys
from tests.ingest.an_office import House, a_house, a_report

CASE = "P014.nonzero-start-count.SC-0141"


@pytest.fixture
def raised(tmp_path: Path) -> Iterator[House]:
    """An office with one open case."""
    with a_house(tmp_path / "data") as house:
        assert house.post(a_report(public_counter=3)).status == 201
        yield house


@pytest.fixture
def key(raised: House) -> str:
    return issue_key(raised.office, Sender.on_the_road("R03"))


def test_it_acts_on_the_case_assigned_to_it_in_its_own_name(raised: House, key: str) -> None:
    assert raised.act(CASE, {"key": "r-0", "action": "accept"}, key).status == 403
    assert raised.act(CASE, {"key": "a-1", "action": "assign", "rover": "R03"}).status == 201
    for action in ("accept", "under-way", "on-site", "clear"):
        assert raised.act(CASE, {"key": f"r-{action}", "action": action}, key).status == 201
    entries = [entry for entry in raised.ledger() if entry["kind"] == "action"]
    assert [(entry["action"], entry["sender"], entry.get("rover")) for entry in entries] == [
        ("assign", "desk:Front desk", "R03"),
        ("accept", "rover:R03", "R03"),
        ("under-way", "rover:R03", "R03"),
        ("on-site", "rover:R03", "R03"),
        ("clear", "rover:R03", None),
    ]


def test_it_neither_reports_nor_reads_nor_passes_text_lines_on(raised: House, key: str) -> None:
    before = len(raised.ledger())
    assert raised.post(a_report(key="r-1", kind="note", note="hello"), key).status == 403
    assert raised.ask("POST", "/text", b"from=5550100&body=P014+open", key).status == 403
    for path in ("/picture", "/cases", "/ledger", "/picture?place=P014"):
        answer = raised.get(path, key)
        assert answer.status == 403
        assert "rover R03" in answer.text
    for method, path in (("GET", "/at/P014"), ("GET", "/at/P014/state")):
        assert raised.ask(method, path, cookie=f"sheet_key={key}").status == 403
    assert len(raised.ledger()) == before


def test_it_is_issued_to_rovers_of_the_roster_only_and_ends_when_revoked(raised: House, key: str) -> None:
    with pytest.raises(NotFound, match="no rover R99"):
        issue_key(raised.office, Sender.on_the_road("R99"))
    assert raised.act(CASE, {"key": "a-1", "action": "assign", "rover": "R03"}).status == 201
    assert revoke_keys(raised.office, Sender.on_the_road("R03")) == 1
    assert raised.act(CASE, {"key": "r-1", "action": "accept"}, key).status == 401
