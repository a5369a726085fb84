"""Every exception the board can raise, by facts or by the clock. To add one: a row, and a case in tests/rules/."""

from county.domain.rules.by_clock import CLOCK_RULES, clock_findings
from county.domain.rules.by_facts import FACT_RULES, fact_findings

__all__ = ["CLOCK_RULES", "FACT_RULES", "clock_findings", "fact_findings"]
