"""What holds for every test: a skip is said loudly, and where CI is set a skip is a failure."""

import os
from collections import Counter
from collections.abc import Generator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from tests.browser import chromium as chromium

CI = os.environ.get("CI", "").lower() in ("1", "true", "yes")

# the machines are noisy, so no example is judged by its time; a build draws the same examples every time
settings.register_profile("pollrise", deadline=None, suppress_health_check=[HealthCheck.too_slow], derandomize=CI)
settings.load_profile("pollrise")

# Files that take long though their tests are few: browsers, whole programs. Spread evenly among all others, the very
# longest first, so that no two workers drive a browser for longer than they must and none is left with one at the end.
LONG = (
    "notices/test_kills.py",
    "ingest/officers_page/test_on_a_phone.py",
    "dashboard/test_board_in_a_browser.py",
    "dashboard/test_every_page.py",
    "rehearsal/test_rehearse.py",
    "dashboard/test_review_in_a_browser.py",
    "ingest/officers_page/test_no_signal.py",
    "dashboard/test_call_in_a_browser.py",
    "ingest/test_process.py",
    "ingest/rovers_page/test_on_a_phone.py",
    "dashboard/sign_in/test_door_in_a_browser.py",
    "rehearsal/test_demo.py",
    "dashboard/test_week_before.py",
    "dashboard/test_rovers_in_a_browser.py",
    "domain/test_laws.py",
    "dashboard/test_exceptions_in_a_browser.py",
    "dashboard/sign_in/test_by_provider.py",
    "ingest/officers_page/test_accessible.py",
    "cli/test_cli.py",
    "dashboard/test_closing_in_a_browser.py",
    "dashboard/test_rehearsed_day.py",
    "domain/test_dispatch_search.py",
    "dashboard/test_every_path_of_the_board.py",
    "ingest/test_csv_drop.py",
    "dashboard/test_set_aside_in_a_browser.py",
)

# files that are not part of the project may be absent anywhere, so only their tests may stay skipped
MAY_BE_ABSENT = "REFERENCE_DATA"


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Whole files in another order: a long one, then its share of the others."""
    here = Path(__file__).parent
    long = {here / file: place for place, file in enumerate(LONG)}
    others = list(dict.fromkeys(item.path for item in items if item.path not in long))
    share = len(others) / (len(long) + 1)
    rank = {path: float(number) for number, path in enumerate(others)}
    rank |= {path: place * share - 0.5 for path, place in long.items()}
    items.sort(key=lambda item: rank[item.path])


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(
    item: pytest.Item, call: pytest.CallInfo[None]
) -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """Turn a skip into a failure where CI is set; an expected failure is no skip."""
    report = yield
    if CI and report.skipped and not hasattr(report, "wasxfail") and MAY_BE_ABSENT not in _reason(report):
        report.outcome = "failed"
        report.longrepr = f"skipped, and with CI set a skip is a failure: {_reason(report)}"
    return report


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report(
    collector: pytest.Collector,
) -> Generator[None, pytest.CollectReport, pytest.CollectReport]:
    """The same for a whole file that skips itself while it is being collected."""
    report = yield
    if CI and report.skipped and MAY_BE_ABSENT not in _reason(report):
        report.outcome = "failed"
        report.longrepr = f"skipped, and with CI set a skip is a failure: {_reason(report)}"
    return report


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """One loud line for each reason why tests were skipped."""
    skipped = Counter(_reason(report) for report in terminalreporter.stats.get("skipped", []))
    for reason, times in sorted(skipped.items()):
        terminalreporter.write_line(f"!!! NOT RUN: {times} skipped: {reason}", yellow=True, bold=True)


def _reason(report: pytest.TestReport | pytest.CollectReport) -> str:
    """What a skip said of itself."""
    longrepr = report.longrepr
    said = str(longrepr[2]) if isinstance(longrepr, tuple) else str(longrepr)
    return said.removeprefix("Skipped: ")
