"""The text line: what each line means, what it is answered, and what is done with what nobody understands."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from urllib.parse import urlencode
from zoneinfo import ZoneInfo

import pytest

from county.domain.broadcasts import Broadcast
from county.domain.expected import expected_of
from county.domain.intake import Hand
from county.domain.moments import parse_moment
from county.domain.plan import Plan
from county.domain.plan_file import parse_plan
from county.domain.roster import Device, Place, Precinct, Roster, Rover, Seal
from county.domain.text_line import Unclear, Understood, plain, speaker_of, spoken_of, understand, words_of
from county.messaging import send
from county.settings import settings_from
from county.upkeep import load_roster
from county.wiring import open_office
from ingest.text_answers import LONGEST_ANSWER, kept_answer
from ingest.text_line import LONGEST_LINE, behind
from tests.ingest.an_office import House, Reply, answering
from tests.ingest.officers_page.a_county import PLAN
from tests.ingest.text_lines import AFTER_MIDNIGHT, EVENING, FROM_OTHERS, MORNING, SEEN

ZONE = ZoneInfo("America/Chicago")
THE_PLAN = parse_plan(PLAN, "plan.toml")
ROSTER = Roster(
    places=(
        Place("P014", "Brook Chapel", phone="555-0114"),
        Place("P015", "Grange Hall", phone="(312) 555-0115"),
        Place("P016", "Mill School", phone="555-0116"),
        Place("P017", "Mill School Annex", phone="555-0116"),
    ),
    precincts=(Precinct("14A", "Ward 14 North", "P014"), Precinct("15A", "Ward 15", "P015")),
    devices=(
        Device("SC-0141", "P014", "scanner", protective_counter=48_210),
        Device("BM-0141", "P014", "bmd"),
        Device("SC-0151", "P015", "scanner"),
        Device("SC-0152", "P015", "scanner"),
    ),
    seals=(Seal("SC-0141", "front", "298521"),),
    rovers=(Rover("R03", "Ana Invented", phone="(312) 555-0177"),),
)


def sent_at(clock: str) -> Broadcast:
    """A message to P014, sent at this wall time and not acknowledged."""
    moment = parse_moment(f"2026-11-03T{clock}:00-06:00")
    assert moment
    return Broadcast(f"m-{clock.replace(':', '')}", f"Sent at {clock}", "every place", moment, "Ann Lee")


def means(
    text: str,
    now: str,
    number: str = "555-0114",
    plan: Plan = THE_PLAN,
    messages: tuple[Broadcast, ...] = (sent_at("05:31"), sent_at("05:47")),
) -> str:
    """A line in short, as text_lines.py writes it."""
    speaker = speaker_of(number, ROSTER)
    if speaker is None:
        return "nobody"
    line = plain(text)
    try:
        if len(line) > LONGEST_LINE:
            raise Unclear("too long")
        place, words = spoken_of(words_of(line), speaker, ROSTER)
        expected = expected_of(ROSTER, plan)[place.place]
        understood = understand(words, behind(line, words), expected, plan, datetime.fromisoformat(now), messages)
    except Unclear:
        return "?"
    own = "" if number == "555-0114" else f"{place.place} "
    return own + "; ".join(_short(raw) for raw in understood.raws)


def _short(raw: dict[str, object]) -> str:
    fields = dict(raw)
    name = str(fields.pop("step", "") or fields.pop("exception", "") or fields["kind"])
    at = parse_moment(str(fields.pop("happened_at"))) if "happened_at" in fields else None
    note = str(fields.pop("note", ""))
    del fields["kind"]
    parts = [name, str(fields.pop("device", "")), f"{at.astimezone(ZONE):%H:%M}" if at else ""]
    parts += [f"{field}={value}" for field, value in fields.items()]
    return " ".join(part for part in parts if part) + (f" | {note}" if note else "")


@pytest.mark.parametrize(("text", "meaning"), MORNING)
def test_a_line_of_the_morning_means(text: str, meaning: str) -> None:
    assert means(text, "2026-11-03T06:05:00-06:00") == meaning


@pytest.mark.parametrize(("text", "meaning"), EVENING)
def test_a_line_of_the_evening_means(text: str, meaning: str) -> None:
    assert means(text, "2026-11-03T19:45:00-06:00") == meaning


@pytest.mark.parametrize(("text", "meaning"), AFTER_MIDNIGHT)
def test_a_line_after_midnight_means(text: str, meaning: str) -> None:
    assert means(text, "2026-11-04T00:30:00-06:00") == meaning


@pytest.mark.parametrize(("text", "meaning"), SEEN)
def test_a_line_that_acknowledges_means(text: str, meaning: str) -> None:
    said = means(text, "2026-11-03T06:05:00-06:00", messages=(sent_at("05:47"),))
    assert said.removeprefix("message-seen message=").removesuffix(" role=officer").partition(" | ")[0] == meaning


def test_of_several_messages_the_one_is_meant_whose_time_is_said() -> None:
    now, both = "2026-11-03T06:05:00-06:00", (sent_at("05:31"), sent_at("05:47"))
    assert means("P014 seen", now, messages=both) == "?"
    assert means("P014 seen 0531", now, messages=both) == "message-seen message=m-0531 role=officer"
    assert means("P014 seen 5:47", now, messages=both) == "message-seen message=m-0547 role=officer"
    assert means("P014 seen 0531 and 0547", now, messages=both).count("message-seen") == 2
    assert means("P014 seen", now, messages=()) == "?"


@pytest.mark.parametrize(("number", "text", "meaning"), FROM_OTHERS)
def test_who_speaks_is_known_by_the_number_alone(number: str, text: str, meaning: str) -> None:
    assert means(text, "2026-11-03T06:05:00-06:00", number) == meaning


def test_the_words_are_the_plans() -> None:
    spanish = parse_plan(
        PLAN.replace('text_open = "open"', 'text_open = "abierto"')
        .replace('text_help = "help"', 'text_help = "ayuda"')
        .replace('text_line = "line"', 'text_line = "fila"'),
        "plan.toml",
    )
    now = "2026-11-03T06:05:00-06:00"
    assert means("P014 abierto 0601", now, plan=spanish) == "open 06:01"
    assert means("P014 abireto 0601", now, plan=spanish) == "open 06:01"
    assert means("P014 ayuda scanner jam", now, plan=spanish) == "scanner-jam | scanner jam"
    assert means("P014 count 412 fila 18", now, plan=spanish) == "count public_counter=412 in_line=18"


@dataclass(frozen=True)
class Gateway:
    """What a text-message gateway does: it passes a message on, and the answer back."""

    house: House

    def text(self, body: str, number: str = "555-0114", **fields: str) -> Reply:
        sent = urlencode({"from": number, "body": body} | fields).encode("utf-8", "surrogatepass")
        return self.house.ask("POST", "/text", sent, self.house.desk_key)


@pytest.fixture
def gateway(tmp_path: Path) -> Iterator[Gateway]:
    data = tmp_path / "data"
    data.mkdir()
    (data / "plan.toml").write_text(PLAN)
    office = open_office(settings_from({"POLLRISE_DATA": str(data), "POLLRISE_NOW": "2026-11-03T06:05:00-06:00x0"}))
    load_roster(office, ROSTER)
    with answering(office) as house:
        yield Gateway(house)


def test_a_line_is_kept_and_answered_with_what_was_understood(gateway: Gateway) -> None:
    answer = gateway.text("P014 opn 6:01", "+1 312 555 0114")
    assert (answer.status, answer.headers["content-type"]) == (200, "text/plain; charset=utf-8")
    assert answer.text == "P014 Brook Chapel: Polls declared open 06:01. The central office has it. Rehearsal only."
    (entry,) = gateway.house.ledger()
    assert (entry["place"], entry["step"], entry["happened_at"]) == ("P014", "open", "2026-11-03T12:01:00Z")
    assert (entry["by"], entry["door"], entry["sender"]) == ("P014 by text", "text", "desk:Front desk")


def test_on_the_day_itself_no_answer_says_rehearsal() -> None:
    plan = parse_plan(PLAN.replace("rehearsal = true", "rehearsal = false"), "plan.toml")
    place = ROSTER.place_by_id["P014"]
    assert "ehearsal" not in kept_answer(place, Understood((), "polls open"), plan)
    assert len(kept_answer(place, Understood((), "polls open " * 40), parse_plan(PLAN, "x"))) <= LONGEST_ANSWER


def test_a_message_delivered_twice_is_one_report(gateway: Gateway) -> None:
    answers = {gateway.text("P014 count 412 line 18").text for _ in range(3)}
    assert len(answers) == 1
    assert len(gateway.house.ledger()) == 1
    gateway.text("P014 count 412 line 18", id="m-1")
    gateway.text("P014 count 412 line 18", id="m-2")
    gateway.text("P014 count 412 line 18", id="m-2")
    assert len(gateway.house.ledger()) == 3
    assert gateway.house.aside() == []


def test_a_message_is_acknowledged_and_a_line_delivered_twice_acknowledges_nothing_else(gateway: Gateway) -> None:
    tell(gateway.house, "m-1", "Polls stay open until 19:30 by order of the court, all places.")
    answer = gateway.text("P014 seen")
    assert answer.text == (
        'P014 Brook Chapel: seen: "Polls stay open until 19:30 by order...". The central office has it. Rehearsal only.'
    )
    tell(gateway.house, "m-2", "Bring the spare seals along.")
    assert gateway.text("P014 seen").text == answer.text
    seen = [entry for entry in gateway.house.ledger() if entry["kind"] == "message-seen"]
    assert [(entry["message"], entry["role"], entry["by"]) for entry in seen] == [("m-1", "officer", "P014 by text")]
    assert gateway.house.aside() == []


def test_where_several_messages_wait_the_answer_names_their_times(gateway: Gateway) -> None:
    assert "no message waits to be acknowledged" in gateway.text("P014 seen").text
    tell(gateway.house, "m-1", "One")
    tell(gateway.house, "m-2", "Two")
    answer = gateway.text("P014 seen", id="another")
    assert "2 messages wait: add when it was sent, 0605 or 0605" in answer.text
    assert "Call 911." in answer.text
    assert len(answer.text) <= LONGEST_ANSWER
    gateway.text("P014 seen 0605")
    assert len([entry for entry in gateway.house.ledger() if entry["kind"] == "message-seen"]) == 2


def tell(house: House, message: str, text: str) -> None:
    """A message to P014, as the desk sends it."""
    hand = Hand("desk:Front desk", "Front desk", "endpoint", house.office.clock.now())
    send(house.office, ROSTER, message, text, "P014", ["P014"], hand)


def test_trouble_is_answered_with_the_number_for_danger(gateway: Gateway) -> None:
    answer = gateway.text("P014 help scanner jam").text
    assert answer.startswith("P014 Brook Chapel: help: Scanner jam.")
    assert "Danger to anyone? Call 911." in answer
    assert [case["exception"] for case in gateway.house.get("/cases").body] == ["scanner-jam"]


def test_what_is_not_understood_is_answered_with_an_example_and_set_aside(gateway: Gateway) -> None:
    answer = gateway.text("P014 count lots")
    assert answer.status == 200
    assert 'Not understood: "lots" is unclear.' in answer.text
    assert "Text like: P014 count 412 line 18." in answer.text
    assert "555-0100" in answer.text
    assert gateway.house.ledger() == []
    (aside,) = gateway.house.aside()
    assert (aside.reason, aside.raw, aside.door) == ("unclear", "from 555-0114: P014 count lots", "text")


def test_the_example_names_the_scanner_where_there_are_several(gateway: Gateway) -> None:
    assert "Text like: P015 zero SC-0151 0." in gateway.text("P015 zero 0", "(312) 555-0115").text


def test_a_number_on_no_list_is_answered_politely_and_nothing_reaches_the_ledger(gateway: Gateway) -> None:
    answer = gateway.text("P014 open 0601", "+1 999 555 0123")
    assert answer.status == 200
    assert "not on Wrenfield County's list" in answer.text
    assert "555-0100" in answer.text
    assert gateway.house.ledger() == []
    assert [aside.reason for aside in gateway.house.aside()] == ["unknown-number"]


def test_a_rover_may_speak_for_any_place(gateway: Gateway) -> None:
    gateway.text("P015 help long line", "3125550177")
    (entry,) = gateway.house.ledger()
    assert (entry["place"], entry["by"]) == ("P015", "R03 by text")


def test_every_answer_fits_into_one_message_and_one_line(gateway: Gateway) -> None:
    unclear = [text for text, meaning in MORNING if meaning == "?"][::3]
    answers = [gateway.text(text) for text in unclear]
    assert {answer.status for answer in answers} == {200}
    assert [answer.text for answer in answers if len(answer.text) > LONGEST_ANSWER or "\n" in answer.text] == []
    assert all("Call 911." in answer.text for answer in answers)


def test_the_gateway_shows_a_desk_key_in_the_header_or_in_the_address(gateway: Gateway) -> None:
    house, body = gateway.house, urlencode({"from": "555-0114", "body": "P014 open"}).encode()
    assert house.ask("POST", "/text", body).status == 401
    assert house.ask("POST", "/text?key=pr_wrong", body).status == 401
    assert house.ask("POST", "/text", body, house.place_key).status == 403
    assert house.ask("POST", f"/text?key={house.desk_key}", body).status == 200
    assert len(house.ledger()) == 1


@pytest.mark.parametrize("body", [b"", b"from=555-0114", b"body=P014+open", b"&" * 100, b"\xff\xfe"])
def test_what_is_no_message_is_refused_as_such(gateway: Gateway, body: bytes) -> None:
    assert gateway.house.ask("POST", "/text", body, gateway.house.desk_key).status == 422


def test_names_of_fields_may_be_in_any_case(gateway: Gateway) -> None:
    body = urlencode({"From": "555-0114", "Body": "P014 open 0601", "To": "555-0199"}).encode()
    assert gateway.house.ask("POST", "/text", body, gateway.house.desk_key).status == 200
    assert len(gateway.house.ledger()) == 1


def test_a_telephone_that_cannot_stop_is_slowed(gateway: Gateway) -> None:
    statuses = [gateway.text("P014 count 1").status for _ in range(35)]
    assert statuses[:30] == [200] * 30
    assert 429 in statuses
    assert gateway.text("P015 open", "(312) 555-0115").status == 200
