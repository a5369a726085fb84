"""What every page says where the endpoint or a loop beside it does not run."""

from datetime import timedelta

import pytest

from county.domain.going_round import Work
from dashboard.endpoint_alarm import SILENT, alarm

TWO_MINUTES = timedelta(minutes=2, seconds=5)
ALL = dict.fromkeys(Work, TWO_MINUTES)
NEVER = dict.fromkeys(Work)


@pytest.mark.parametrize("may_have_ended", [False, True])
def test_a_clock_that_stands_still_is_said_with_what_it_means_and_what_to_do(may_have_ended: bool) -> None:
    assert alarm("answers", {Work.CLOCK: TWO_MINUTES}, may_have_ended=may_have_ended) == (
        "The endpoint's clock has not run for 2 min: late openings and silent places are not being raised. "
        "Restart the endpoint."
    )


def test_several_are_said_in_one_line() -> None:
    says = alarm(SILENT, {Work.CLOCK: TWO_MINUTES, Work.NOTICES: timedelta(hours=1)}, may_have_ended=False)
    assert says.startswith("The endpoint's clock and sender of notices have not run for 1 h: ")
    assert "silent places are not being raised and nobody is being told of open cases. Restart" in says
    assert says.endswith("The endpoint does not answer: no report comes in.")


def test_an_endpoint_that_has_gone_is_said_with_how_long() -> None:
    assert alarm(SILENT, ALL, may_have_ended=False) == (
        "The endpoint has not run for 2 min: no report comes in, late openings and silent places "
        "are not being raised and nobody is being told of open cases. Start it again."
    )


def test_a_board_without_any_endpoint_says_so() -> None:
    says = alarm(SILENT, NEVER, may_have_ended=False)
    assert says.startswith("No endpoint has run here yet: no report comes in")


def test_an_endpoint_that_answers_without_a_sign_of_life_leaves_it_unknown() -> None:
    says = alarm("answers", {Work.ENDPOINT: TWO_MINUTES}, may_have_ended=False)
    assert says.startswith("The endpoint answers but has given no sign for 2 min that its clock runs: whether late")


def test_where_the_day_is_over_or_was_rehearsed_an_endpoint_may_have_ended() -> None:
    assert alarm(SILENT, ALL, may_have_ended=True) == "The endpoint does not answer: no report comes in."
    assert alarm("answers", ALL, may_have_ended=True) == ""


def test_nothing_is_said_where_everything_runs() -> None:
    assert alarm("answers", {}, may_have_ended=False) == ""
    assert alarm("not asked yet", {}, may_have_ended=False) == ""
