"""The printed cards: the square code leads into the sheet, and the words on them are the county's."""

import io
import os
import stat
from datetime import time
from pathlib import Path

import pytest
import zxingcpp
from PIL import Image

from county.cards.card import card_for, rover_card
from county.cards.printing import cards_pdf, cards_png
from county.cli import main
from county.domain.plan import Plan
from county.domain.plan_file import parse_plan
from county.domain.roster import Place, Roster, Rover
from county.settings import settings_from
from county.upkeep import load_roster
from county.wiring import open_office
from tests.ingest.officers_page.a_county import PLAN, a_roster

THE_PLAN = parse_plan(PLAN, "plan.toml")
BASE = "https://board.example.gov"
KEYS = ("pr_abcDEF0123456789-_abcDEF01234567", "pr_another_key_of_the_same_length_00")


def codes_on(page: bytes) -> list[str]:
    """What every square code on a picture of a page says, from top to bottom."""
    found = zxingcpp.read_barcodes(Image.open(io.BytesIO(page)).convert("L"))
    return [each.text for each in sorted(found, key=lambda each: each.position.top_left.y)]


def two_cards(plan: Plan = THE_PLAN, roster: Roster | None = None) -> list[bytes]:
    roster = roster or a_roster()
    cards = [card_for(place, key, BASE, roster, plan) for place, key in zip(roster.places, KEYS, strict=True)]
    return cards_png(cards, plan, 100)


def test_the_square_codes_lead_into_the_sheets_signed_in() -> None:
    (page,) = two_cards()
    assert codes_on(page) == [f"{BASE}/at/P014?k={KEYS[0]}", f"{BASE}/at/P015?k={KEYS[1]}"]


def test_a_code_is_still_read_from_a_bad_copy() -> None:
    (page,) = two_cards()
    small = Image.open(io.BytesIO(page)).convert("L").resize((510, 660))
    assert len(zxingcpp.read_barcodes(small)) == 2


def test_an_odd_place_id_and_a_long_name_do_no_harm() -> None:
    name = "Saint Bartholomew's Parish Hall and Community Centre, Lower Level #2 *east* _side_ <b> $x$"
    roster = Roster(places=(Place("P 7/a&b", name), Place("P8", "Ünïted")))
    (page,) = two_cards(roster=roster)
    assert codes_on(page)[0] == f"{BASE}/at/P%207%2Fa%26b?k={KEYS[0]}"


def test_the_lines_on_a_card_are_in_the_words_of_the_plan_and_can_be_sent_as_they_are() -> None:
    spanish = parse_plan(PLAN.replace('text_open = "open"', 'text_open = "abierto"'), "plan.toml")
    roster = a_roster()
    lines = [line for line, _ in card_for(roster.places[0], KEYS[0], BASE, roster, spanish).lines]
    assert lines == [
        "P014 abierto 0601",
        "P014 zero SC-0141 0",
        "P014 count 412 line 18",
        "P014 help scanner jam",
        "P014 seen",
        "P014 closed 1900",
    ]


def test_two_cards_share_a_page_and_forty_eight_take_twenty_four() -> None:
    roster = a_roster(48)
    cards = [card_for(place, KEYS[0], BASE, roster, THE_PLAN) for place in roster.places]
    assert cards_pdf(cards, THE_PLAN).startswith(b"%PDF")
    assert len(cards_png(cards, THE_PLAN, 20)) == 24


def test_a_rovers_card_leads_to_its_assignments_and_has_no_text_lines() -> None:
    rover = Rover("R03", "Ana Invented", "north", skills=("scanner",), carries=("seals", "tape"), starts=time(5))
    card = rover_card(rover, KEYS[0], BASE, THE_PLAN)
    assert card.about == "zone north · carries seals, tape"
    assert card.lines == ()
    (page,) = cards_png([card], THE_PLAN, 100)
    assert codes_on(page) == [f"{BASE}/rover/R03?k={KEYS[0]}"]


@pytest.fixture
def data(tmp_path: Path) -> Path:
    """A data folder with plan and roster."""
    folder = tmp_path / "data"
    folder.mkdir()
    (folder / "plan.toml").write_text(PLAN)
    office = open_office(settings_from({"POLLRISE_DATA": str(folder)}))
    load_roster(office, a_roster())
    office.engine.dispose()
    return folder


def run(data: Path, *words: str, **environ: str) -> int:
    return main(words, {"POLLRISE_DATA": str(data), **environ})


def test_the_command_prints_a_card_for_every_place_readable_by_its_owner_alone(
    data: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    cards = tmp_path / "cards.pdf"
    assert run(data, "keys", "issue", "--all", "--cards", str(cards), POLLRISE_ADDRESS=f"{BASE}/") == 0
    said = capsys.readouterr()
    assert [line.split("\t")[0] for line in said.out.splitlines()] == ["P014", "P015"]
    assert f"wrote 2 cards to {cards}, with their keys; they lead to {BASE}" in said.err
    assert cards.read_bytes().startswith(b"%PDF")
    assert stat.S_IMODE(cards.stat().st_mode) == 0o600 or os.name == "nt"


def test_the_command_prints_a_card_for_every_rover(
    data: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    cards = tmp_path / "cards.pdf"
    assert run(data, "keys", "issue", "--rovers", "--cards", str(cards), POLLRISE_ADDRESS=BASE) == 0
    said = capsys.readouterr()
    assert [line.split("\t")[0] for line in said.out.splitlines()] == ["R03"]
    assert f"wrote 1 card to {cards}" in said.err
    assert run(data, "keys", "issue", "--rover", "R03") == 0
    assert "1 key issued to them earlier stay" in capsys.readouterr().err
    assert run(data, "keys", "issue", "--rover", "R99") == 2
    assert "the roster has no rover R99" in capsys.readouterr().err
    assert run(data, "keys", "issue", "--desk", "Front") == 0
    assert run(data, "keys", "revoke", "--rovers") == 0
    assert "revoked 2 keys of every rover" in capsys.readouterr().out
    assert run(data, "keys", "revoke", "--rover", "R03") == 0
    assert "revoked 0 keys of R03" in capsys.readouterr().out


def test_a_card_that_no_phone_can_follow_is_said_so(
    data: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(data, "keys", "issue", "--place", "P014", "--cards", str(tmp_path / "card.pdf")) == 0
    assert "which no phone can reach: set POLLRISE_ADDRESS" in capsys.readouterr().err


@pytest.mark.parametrize(
    "words",
    [("--all", "--cards", "nowhere/cards.pdf"), ("--desk", "Front", "--cards", "cards.pdf"), ("--all", "--cards", ".")],
)
def test_no_key_is_issued_where_the_cards_cannot_be_written(
    data: Path, words: tuple[str, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(data, "keys", "issue", *words) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert "--cards" in said.err
    assert said.err.count("\n") == 1
