"""A plan file becomes a plan, or is refused with file, line and reason."""

from dataclasses import fields
from datetime import date, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from county.domain.effects import Effect
from county.domain.exception_kinds import EXCEPTION_KINDS
from county.domain.plan import GENERAL_INSTRUCTION, Anchor, Contact, Limits, Plan, Rung, Target
from county.domain.plan_file import parse_plan
from county.errors import BadPlan

ELECTION = """\
[election]
name = "General Election"
county = "Wrenfield County"
date = 2026-11-03
zone = "America/Chicago"
opens = "06:00"
closes = "19:00"
"""
STEPS = """\
[[step]]  # the first
key = "zero-report"
says = "Zero report printed and signed"
due = "-15m"
grace = "5m"
per = "device"
types = ["scanner"]
[[step]]
key = "open"
says = "Polls open"
due = "0m"
[[step]]
key = "closed"
says = "Polls closed"
due = "close+0m"
"""
SMALL = ELECTION + STEPS
MINUTE = timedelta(minutes=1)


def plan(more: str = "") -> Plan:
    return parse_plan(SMALL + more, "plan.toml")


def fault(text: str) -> BadPlan | None:
    try:
        parse_plan(text, "plan.toml")
    except BadPlan as refused:
        return refused
    return None


def refusal(text: str) -> str:
    return str(fault(text))


def test_a_small_plan_is_read() -> None:
    read = plan()
    assert (read.election.date, read.election.opens, read.election.closes) == (date(2026, 11, 3), time(6), time(19))
    assert [step.key for step in read.steps] == ["zero-report", "open", "closed"]
    zero, opening, closing = read.steps
    assert (zero.anchor, zero.due, zero.grace) == (Anchor.OPENING, -15 * MINUTE, 5 * MINUTE)
    assert (zero.per_device, zero.types) == (True, ("scanner",))
    assert (opening.per_device, opening.grace) == (False, timedelta(0))
    assert closing.anchor is Anchor.CLOSING
    assert read.limits == Limits()
    assert not read.election.rehearsal


@pytest.mark.parametrize(
    ("due", "anchor", "minutes"),
    [
        ("-15m", Anchor.OPENING, -15),
        ("+0m", Anchor.OPENING, 0),
        ("0m", Anchor.OPENING, 0),
        ("-1h30m", Anchor.OPENING, -90),
        ("+5m", Anchor.OPENING, 5),
        ("close+30m", Anchor.CLOSING, 30),
        ("close -10m", Anchor.CLOSING, -10),
        ("close+3h", Anchor.CLOSING, 180),
    ],
)
def test_a_step_is_due_from_the_opening_or_from_the_closing(due: str, anchor: Anchor, minutes: int) -> None:
    step = parse_plan(SMALL.replace('"-15m"', f'"{due}"'), "plan.toml").steps[0]
    assert (step.anchor, step.due) == (anchor, minutes * MINUTE)


def test_every_limit_can_be_set() -> None:
    said: dict[str, object] = {}
    for number, limit in enumerate(fields(Limits), 101):
        kind = type(limit.default)
        said[limit.name] = {timedelta: number * MINUTE, bool: not limit.default, int: number}[kind]
    lines = (
        f'{name} = "{int(value / MINUTE)}m"' if isinstance(value, timedelta) else f"{name} = {value}".lower()
        for name, value in said.items()
    )
    limits = plan("[limits]\n" + "\n".join(lines)).limits
    assert {limit.name: getattr(limits, limit.name) for limit in fields(Limits)} == said
    assert not set(said.items()) & {(limit.name, limit.default) for limit in fields(Limits)}


def test_targets_ladder_words_instructions_and_own_exceptions_are_read() -> None:
    read = plan(
        """
        [effects.stopped]
        acknowledge = 3
        clear = 60
        [[ladder]]
        effect = "stopped"
        after = "5m"
        unless = "acknowledged"
        tell = ["lead", "director"]
        [words]
        place = "vote site"
        [instructions]
        scanner-jam = "Stop. Call."
        flood = "Go to higher ground."
        [[exception]]
        key = "flood"
        says = "High water"
        effect = "danger"
        """
    )
    assert read.targets == {Effect.STOPPED: Target(acknowledge=3, clear=60)}
    assert read.ladder == (Rung(Effect.STOPPED, 5 * MINUTE, "acknowledged", ("lead", "director")),)
    assert (read.word("place"), read.word("rover")) == ("vote site", "rover")
    assert read.instruction("flood") == "Go to higher ground."
    assert read.instruction("fire") == GENERAL_INSTRUCTION
    assert read.exception_kinds["flood"].effect is Effect.DANGER
    assert set(read.exception_kinds) == {*EXCEPTION_KINDS, "flood"}


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('"-15m"', '"15 minutes"', 'line 11: step "zero-report": due "15 minutes" is not a duration like -15m'),
        ('"-15m"', '"15m"', 'line 11: step "zero-report": due "15m" is not a duration like -15m'),
        ('"-15m"', "-15", 'line 11: step "zero-report": due -15 is not a duration'),
        ('"-15m"', '"close"', 'line 11: step "zero-report": due "close" is not'),
        ('"5m"', '"-5m"', 'line 12: step "zero-report": grace "-5m" is not a length of time like 45m'),
        ('per = "device"', 'per = "scanner"', 'line 13: step "zero-report": per "scanner" is not one of place, device'),
        ('types = ["scanner"]\n', "", 'line 13: step "zero-report": per "device" needs types'),
        ('per = "device"\n', "", 'line 13: step "zero-report": types are only for'),
        ('["scanner"]', '["scanner", "scanner"]', "line 14: .* names the same thing twice"),
        ('["scanner"]', "[]", "line 14: .* is not a list"),
        ('"open"', '"zero-report"', 'line 16: step "zero-report": the same key stands on another step above'),
        ('"open"', '"Open"', 'line 16: step "Open": key "Open" is not small letters'),
        ('"open"', '"opened"', 'line 8: there is no step "open"'),
        ('"Polls open"', '""', 'line 17: step "open": says "" is not a text'),
        ('says = "Polls open"\n', "", 'line 15: step "open": "says" is missing'),
        ("grace =", "garce =", 'line 12: step "zero-report": unknown name "garce"'),
        ("America/Chicago", "America/Wrenfield", 'line 5: election: zone "America/Wrenfield" is not a time zone'),
        ("America/Chicago", "America", 'line 5: election: zone "America" is not a time zone'),
        ("America/Chicago", "../UTC", 'line 5: election: zone "../UTC" is not a time zone'),
        ('"19:00"', '"05:00"', "line 7: election: closes 05:00 is not after opens 06:00"),
        ('"19:00"', '"25:00"', 'line 7: election: closes "25:00" is not a time of day like 06:00'),
        ("2026-11-03", '"3 November"', 'line 4: election: date "3 November" is not a date like 2026-11-03'),
        ("2026-11-03", "2026-11-03T00:00:00Z", "line 4: election: date .* is not a date"),
        ("[election]", "[elections]", 'line 1: unknown name "elections"'),
        ('"06:00"', '"06:00', "line 6: cannot be read: "),
        ('closes = "19:00"', 'opens = "07:00"', "line 7: cannot be read: "),
    ],
)
def test_a_fault_is_shown_with_its_line(old: str, new: str, says: str) -> None:
    assert old in SMALL
    with pytest.raises(BadPlan, match=f"^plan.toml, {says}"):
        parse_plan(SMALL.replace(old, new, 1), "plan.toml")


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ("[limits]\ncopies = 3\nsigners = true", "line 25: limits: signers true is not a whole number"),
        ("[limits]\ncopies = -1", "line 24: limits: copies -1 is not a whole number of 0 or more"),
        ("[limits]\nsilent_after = 75", "line 24: limits: silent_after 75 is not a length of time like 45m"),
        ("[limits]\nextension_inclusive = 1", "line 24: limits: extension_inclusive 1 is not true or false"),
        ("[limits]\nsilent = '75m'", 'line 24: limits: unknown name "silent"'),
        ("limits = 3\n", 'line 23: step "closed": unknown name "limits"'),
        ("[effects.loud]\nclear = 3", 'line 23: effects: unknown name "loud"'),
        ("[effects.stopped]\nclear = '3'", 'line 24: effects.stopped: clear "3" is not a whole number'),
        ("[effects.stopped]\nacknowledge = 5\nclear = 3", "line 25: effects.stopped: clear 3 is under acknowledge 5"),
        ("[effects]\nstopped = 4", "line 24: effects: stopped must be a table: .effects.stopped."),
        ("[[ladder]]\neffect = 'loud'", 'line 24: ladder 1: effect "loud" is not one of danger, stopped'),
        (
            "[[ladder]]\neffect='stopped'\nafter='5m'\nunless='seen'\ntell=['lead']",
            'line 26: ladder 1: unless "seen" is not one of acknowledged, on-site, cleared',
        ),
        (
            "[[ladder]]\neffect='stopped'\nafter='5m'\nunless='cleared'\ntell='lead'",
            'line 27: ladder 1: tell "lead" is not a list',
        ),
        ("[words]\nplaice = 'x'", 'line 24: words: unknown name "plaice"'),
        ("[instructions]\nfirre = 'x'", 'line 24: instructions: unknown name "firre"'),
        ("[instructions]\nfire = ''", 'line 24: instructions: fire "" is not a text'),
        ("[[exception]]\nkey = 'fire'", 'line 24: exception "fire": there is already a kind'),
        ("[[exception]]\nkey = 'flood'\nsays = 'x'\neffect = 'x'", 'line 26: exception "flood": effect "x" is not'),
        ("[ladder]\neffect = 'x'", "line 23: ladder must be tables: ..ladder.."),
        ("[step.x]\ny = 1", 'line 23: step "closed": unknown name "x"'),
    ],
)
def test_a_fault_in_what_may_be_left_out_is_shown_too(more: str, says: str) -> None:
    with pytest.raises(BadPlan, match=f"^plan.toml, {says}"):
        plan(more)


def test_the_people_whom_the_ladder_tells_are_read() -> None:
    read = plan(
        """
        [[person]]
        name = "Ada  Rill"
        roles = ["lead", "custodian"]
        notice = "mailto://mail.example?to=a@mail.example"
        starts = "03:30"
        ends = "24:00"
        [[person]]
        name = "Bo Fenn"
        roles = ["director"]
        """
    )
    assert read.people == (
        Contact("Ada Rill", ("lead", "custodian"), "mailto://mail.example?to=a@mail.example", time(3, 30), time(0)),
        Contact("Bo Fenn", ("director",)),
    )


PERSON = "[[person]]\nname = 'Ada Rill'\nroles = ['lead']\n"


@pytest.mark.parametrize(
    ("more", "says"),
    [
        (PERSON + "role = 'lead'", 'line 26: person 1: unknown name "role"'),
        ("[[person]]\nroles = ['lead']", 'line 23: person 1: "name" is missing'),
        ("[[person]]\nname = 'Ada Rill'", 'line 23: person 1: "roles" is missing'),
        ("[[person]]\nname = 'Ada Rill'\nroles = 'lead'", 'line 25: person 1: roles "lead" is not a list'),
        (PERSON + PERSON, 'line 27: person 2: name "Ada Rill" stands on another person above'),
        (PERSON + f"[[person]]\nname = '{'x' * 61}'", "line 27: person 2: name is longer than 60 characters"),
        (PERSON + "starts = '06:00'", "line 26: person 1: a shift needs both starts and ends"),
        (PERSON + "ends = '06:00'", "line 26: person 1: a shift needs both starts and ends"),
        (PERSON + "starts = '6:00'\nends = '06:00'", "line 27: person 1: ends 06:00 is when the shift starts"),
        (PERSON + "notice = 'setting:lead'", 'line 26: person 1: notice "setting" is not "console", "setting:NAME"'),
        (PERSON + "notice = 'mailto:a@mail.example'", 'line 26: person 1: notice "mailto" is not "console"'),
    ],
)
def test_a_fault_in_a_person_is_shown_too(more: str, says: str) -> None:
    with pytest.raises(BadPlan, match=f"^plan.toml, {says}"):
        plan(more)


def test_an_address_that_cannot_be_used_is_not_repeated_in_the_message() -> None:
    assert "hunter2" not in refusal(SMALL + PERSON + "notice = 'mailto:a:hunter2@mail.example'")


def test_texts_of_several_lines_and_comments_do_not_shift_the_line() -> None:
    more = '# [limits]\n[words] # copies = 1\nplace = """\n[limits]\ncopies = "#"\n\\"""" # x\n[limits]\ncopies = "x"\n'
    assert refusal(SMALL + more).startswith("plan.toml, line 30: limits: copies")


@pytest.mark.parametrize("text", ["", "\ufeff", "# nothing\n"])
def test_an_empty_plan_says_what_is_missing(text: str) -> None:
    assert refusal(text) == "plan.toml, line 1: the table [election] is missing"


def test_a_plan_saved_by_a_spreadsheet_or_an_editor_of_another_system_is_the_same_plan() -> None:
    assert parse_plan("\ufeff" + SMALL.replace("\n", "\r\n"), "plan.toml") == plan()
    assert refusal(SMALL.replace('"-15m"', '"soon"').replace("\n", "\r\n")).startswith("plan.toml, line 11: ")


def test_a_place_open_until_midnight_is_no_fault() -> None:
    assert parse_plan(SMALL.replace('"19:00"', '"24:00"'), "plan.toml").election.closes == time(0)


@given(st.integers(0, SMALL.count("\n") - 1), st.text(max_size=20))
def test_whatever_is_typed_over_a_line_is_read_or_refused_with_a_line_of_the_file(number: int, typed: str) -> None:
    lines = SMALL.split("\n")
    lines[number] = typed
    text = "\n".join(lines)
    refused = fault(text)
    assert refused is None or (1 <= refused.line <= text.count("\n") + 1 and refused.reason)
