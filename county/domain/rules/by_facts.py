"""FACT_RULES: what a report, a count, a device's evidence or an interruption raises, and what the clock raised."""

from collections.abc import Iterator

from county.domain.effects import effect_of
from county.domain.exception_kinds import SAME_TROUBLE
from county.domain.findings import Finding
from county.domain.rules.balance_rule import ballots_do_not_balance
from county.domain.rules.by_clock import CLOCK_RULES
from county.domain.rules.counting import (
    auxiliary_in_use,
    ballots_out,
    counter_backwards,
    counter_jump,
    drift,
    out_of_balance,
)
from county.domain.rules.custody_rules import custody_gap, item_missing, seal_at_return
from county.domain.rules.evidence import (
    nonzero_start_count,
    protective_counter_mismatch,
    seal_broken,
    seal_mismatch,
    wrong_election,
    wrong_precinct,
    zero_report_short,
)
from county.domain.rules.opening import accessibility_barrier, clock_off, closed_early, officers_short, opened_early
from county.domain.rules.reported import interrupted, jams_past_the_standard, reported
from county.domain.rules.same_trouble import is_of_a_pattern, same_trouble
from county.domain.rules.scene import Rule, Scene
from county.domain.rules.waiting import ballots_short, long_line

_ENDED = {rule.exception: rule for rule in CLOCK_RULES}


def raised_by_clock(scene: Scene) -> Iterator[Finding]:
    """What the clock loop wrote down, with the moment the facts ended it."""
    for entry in scene.day.raised:
        if is_of_a_pattern(entry):
            continue
        exception = entry.text("exception")
        rule = _ENDED.get(exception)
        ended = rule.ended(scene, entry) if rule else None
        yield Finding(
            exception=exception,
            effect=effect_of(entry.text("effect"), scene.plan.kind(exception).effect),
            since=entry.happened_at,
            learned_at=entry.received_at,
            cause=entry.key,
            by=entry.by,
            device=entry.device,
            says=entry.text("says"),
            expected=entry.text("expected"),
            found=entry.text("found"),
            clears_at=max(ended, entry.happened_at) if ended else None,
            clears_says=rule.ended_says if rule else "",
        )


FACT_RULES: tuple[Rule, ...] = (
    Rule("reported", "*", reported, "practice: reported by a person"),
    Rule("interrupted", "*", interrupted, "NAC 293.217: each delay with its reason and its cure"),
    Rule("raised-by-clock", "*", raised_by_clock, "the clock rules"),
    Rule(SAME_TROUBLE, SAME_TROUBLE, same_trouble, "Poisson against the day's own rate; limits are the county's"),
    Rule("seal-mismatch", "seal-mismatch", seal_mismatch, "RCW 29A.44.310; A.R.S. 16-561; VVSG 2.0 12.1-A"),
    Rule("seal-broken", "seal-broken", seal_broken, "VVSG 2.0 12.1-E"),
    Rule("nonzero-start-count", "nonzero-start-count", nonzero_start_count, "VVSG 2.0 1.1.3-B"),
    Rule(
        "protective-counter-mismatch",
        "protective-counter-mismatch",
        protective_counter_mismatch,
        "VVSG 2.0 1.1.2-H: tests raise it, so it is compared, not zero",
    ),
    Rule("wrong-election", "wrong-election", wrong_election, "VVSG 2.0 1.1.2-K"),
    Rule("wrong-precinct", "wrong-precinct", wrong_precinct, "VVSG 2.0 1.1.2-L"),
    Rule("zero-report-short", "zero-report-short", zero_report_short, "RCW 29A.44.310(4); number common practice"),
    Rule("opened-early", "opened-early", opened_early, "08 NCAC 10B .0105"),
    Rule("closed-early", "closed-early", closed_early, "08 NCAC 10B .0105"),
    Rule("officers-short", "officers-short", officers_short, "N.Y. Elec. Law 8-102; number is the county's"),
    Rule(
        "accessibility-barrier", "accessibility-barrier", accessibility_barrier, "2010 ADA Standards 403.5.1, 404.2.3"
    ),
    Rule("jams-past-the-standard", "scanner-fault", jams_past_the_standard, "VVSG 2.0 1.2-G: at most 1 in 500"),
    Rule("counter-backwards", "counter-backwards", counter_backwards, "VVSG 2.0 1.1.9-K"),
    Rule("counter-jump", "counter-jump", counter_jump, "common practice; rate is the county's"),
    Rule("drift", "drift", drift, "common practice; tolerance is the county's"),
    Rule("long-line", "long-line", long_line, "Presidential Commission on Election Administration (2014): 30 minutes"),
    Rule("ballots-short", "ballots-short", ballots_short, "common practice; how far ahead is the county's"),
    Rule("ballots-out", "ballots-out", ballots_out, "common practice"),
    Rule("auxiliary-in-use", "auxiliary-in-use", auxiliary_in_use, "common practice"),
    Rule("out-of-balance", "out-of-balance", out_of_balance, "8 CCR 1505-1 Rule 10"),
    Rule("ballots-do-not-balance", "out-of-balance", ballots_do_not_balance, "8 CCR 1505-1 Rule 10"),
    Rule("item-missing", "item-missing", item_missing, "COMAR 33.07.10.01; EAC Chain of Custody Best Practices (2021)"),
    Rule(
        "custody-gap", "custody-gap", custody_gap, "EAC Chain of Custody Best Practices (2021); the plan's on_the_way"
    ),
    Rule("seal-at-return", "custody-gap", seal_at_return, "EAC Chain of Custody Best Practices (2021)"),
    Rule("clock-off", "clock-not-changed", clock_off, "US clocks change the first Sunday in November"),
)


def fact_findings(scene: Scene) -> list[Finding]:
    """Everything the facts of one place's day raise."""
    return [finding for rule in FACT_RULES for finding in rule.finds(scene)]
