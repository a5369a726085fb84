"""The kinds of exception that are promised: each has its usual effect on voting; and which of them a rule can raise."""

from county.domain.effects import Effect
from county.domain.exception_kinds import EXCEPTION_KINDS
from county.domain.rules import CLOCK_RULES, FACT_RULES

DANGER, STOPPED, IMPAIRED, AT_RISK, RECORD = Effect

# the usual effect of each kind as the trade sees it; `opened early` stops, `closed early` is written down
USUAL = {
    **dict.fromkeys(("threat", "medical", "fire", "evacuation"), DANGER),
    **dict.fromkeys(("late-opening", "opened-early", "no-power", "paper-list-missing", "wrong-ballots"), STOPPED),
    **dict.fromkeys(("nonzero-start-count", "seal-mismatch", "seal-broken", "protective-counter-mismatch"), STOPPED),
    **dict.fromkeys(("wrong-election", "wrong-precinct", "ballots-out"), STOPPED),
    # custody: the material cannot be shown to be whole
    **dict.fromkeys(("not-received", "item-missing", "custody-gap"), STOPPED),
    **dict.fromkeys(("on-battery", "pollbook-outage", "scanner-fault", "scanner-jam", "auxiliary-in-use"), IMPAIRED),
    **dict.fromkeys(("accessible-device-down", "accessibility-barrier", "long-line", "other"), IMPAIRED),
    **dict.fromkeys(("expected-late", "step-overdue", "silent", "ballots-short", "officers-short"), AT_RISK),
    **dict.fromkeys(
        ("counter-backwards", "counter-jump", "drift", "not-closed", "same-trouble", "message-unseen"), AT_RISK
    ),
    **dict.fromkeys(
        ("zero-report-short", "closed-early", "out-of-balance", "clock-not-changed", "clock-ahead"), RECORD
    ),
}

# what a person reports and nothing else can show, so far
REPORTED_ONLY = {
    *("threat", "medical", "fire", "evacuation", "on-battery", "pollbook-outage"),
    *("paper-list-missing", "scanner-jam", "accessible-device-down", "wrong-ballots"),
    "other",
}

NEEDS_A_PERSON = {
    *("threat", "medical", "fire", "evacuation", "nonzero-start-count", "seal-mismatch", "seal-broken"),
    *("protective-counter-mismatch", "wrong-election", "wrong-precinct", "opened-early", "wrong-ballots"),
    *("item-missing", "custody-gap"),
}


def test_the_kinds_are_those_that_are_promised() -> None:
    assert EXCEPTION_KINDS.keys() == USUAL.keys()


def test_each_kind_has_the_trades_usual_effect() -> None:
    assert {key: kind.effect for key, kind in EXCEPTION_KINDS.items()} == USUAL


def test_each_kind_is_named_by_its_key_and_said_in_words() -> None:
    for key, kind in EXCEPTION_KINDS.items():
        assert kind.key == key
        assert kind.says[0].isupper()
        assert kind.says != key
    assert len({kind.says for kind in EXCEPTION_KINDS.values()}) == len(EXCEPTION_KINDS)


def test_a_rule_can_raise_every_kind_but_those_that_only_a_person_can_tell() -> None:
    raisable = {*(rule.exception for rule in FACT_RULES), *(rule.exception for rule in CLOCK_RULES), "clock-ahead"}
    assert EXCEPTION_KINDS.keys() - raisable == REPORTED_ONLY


def test_where_people_or_integrity_are_at_stake_a_person_is_needed() -> None:
    assert {key for key, kind in EXCEPTION_KINDS.items() if kind.needs_person} == NEEDS_A_PERSON
