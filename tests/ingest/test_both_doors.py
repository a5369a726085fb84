"""The same row gives the same receipt and the same entry, whichever door it comes through."""

import csv
import io
import json
from pathlib import Path
from typing import Any

import pytest

from county import desk
from county.following import Following
from ingest.drop_file import DropFile
from tests.an_office import set_up
from tests.ingest.an_office import a_house, a_report

OF_THE_DOOR = {"seq", "by", "door", "sender", "previous", "digest"}
ROWS: dict[str, dict[str, object]] = {
    "a zero report": a_report(),
    "a precinct": a_report(place="14B"),
    "no time": a_report(happened_at=None),
    "a time without offset": a_report(happened_at="2026-11-03T05:41:00"),
    "a time ahead": a_report(happened_at="2026-11-03T09:41:00-06:00"),
    "a note": {"key": "n-1", "place": "P014", "kind": "note", "note": "naïve, “quoted”, 東"},
    "a count": {"key": "c-1", "place": "P014", "kind": "count", "check_ins": 41, "in_line": 7},
    "a yes or no": a_report(step="seals-checked", seal_position="ballot-box", seal_number="A100", seal_intact=True,
                            copies=None, signers=None, public_counter=None),
    "words": a_report(shown_precincts=["14A", "14B"]),
    "a trouble": {"key": "e-1", "place": "P014", "kind": "exception", "exception": "no-power", "effect": "stopped",
                  "since": "2026-11-03T05:30:00-06:00", "voters_left": 0},
    "an interruption": {"key": "i-1", "place": "P014", "kind": "interruption", "effect": "stopped"},
    "a correction": {"key": "x-1", "place": "P014", "kind": "correction", "corrects": "zero-1", "withdraw": True,
                     "reason": "wrong place"},
    "a negative number": a_report(public_counter=-1),
    "a huge number": a_report(public_counter=10**12),
    "an unknown place": a_report(place="P999"),
    "an unknown step": a_report(step="lunch"),
    "a device elsewhere": a_report(device="SC-0151"),
    "a bad key": a_report(key="a b"),
    "a bad time": a_report(happened_at="yesterday"),
    "a bad kind": a_report(kind="vote"),
}  # fmt: skip


def as_cell(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return ";".join(value) if isinstance(value, list) else str(value)


def through_the_endpoint(data: Path, row: dict[str, object]) -> tuple[str, Any, list[str]]:
    with a_house(data) as house:
        receipt = house.post({"reports": [row]}, house.desk_key)["receipts"][0]
        entries = house.ledger()
        return receipt["outcome"], entries, [str(each) for aside in house.aside() for each in aside.problems]


def through_the_drop_folder(data: Path, row: dict[str, object]) -> tuple[str, Any, list[str]]:
    office = set_up(data)
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, list(row))
    writer.writeheader()
    writer.writerow({name: as_cell(value) for name, value in row.items()})
    file = DropFile("row.csv", office, Following(office), lambda items: desk.keep(office, items))
    taken = file.take(out.getvalue().encode())
    entries = [entry for entry in desk.ledger_pages(office) if entry["kind"] != "roster"]
    problems = [str(each) for aside in desk.set_aside_list(office) for each in aside.problems]
    office.engine.dispose()
    return "kept" if taken.kept else "refused", entries, problems


@pytest.mark.parametrize("name", ROWS)
def test_the_same_row_gives_the_same_receipt_at_either_door(tmp_path: Path, name: str) -> None:
    row = ROWS[name]
    sent, kept, problems = through_the_endpoint(tmp_path / "endpoint", row)
    dropped, held, others = through_the_drop_folder(tmp_path / "drop", row)
    assert sent == dropped
    assert problems == others
    assert [{k: v for k, v in entry.items() if k not in OF_THE_DOOR} for entry in kept] == [
        {k: v for k, v in entry.items() if k not in OF_THE_DOOR} for entry in held
    ]
    assert len(kept) == (1 if sent == "kept" else 0)


def test_a_report_that_came_through_one_door_is_already_held_at_the_other(tmp_path: Path) -> None:
    with a_house(tmp_path / "data") as house:
        assert house.post(a_report()).status == 201
        file = DropFile("row.csv", house.office, house.following, lambda items: desk.keep(house.office, items))
        cells = a_report()
        table = ",".join(cells) + "\r\n" + ",".join(json.dumps(as_cell(value)) for value in cells.values()) + "\r\n"
        taken = file.take(table.encode())
        assert (taken.kept, taken.held, taken.bad) == (0, 1, [])
