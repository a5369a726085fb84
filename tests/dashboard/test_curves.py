"""Step curves, with an earlier election behind them."""

from pathlib import Path
from typing import Any

from county.domain.earlier_steps import parse_earlier_steps
from county.earlier_file import earlier_steps_at_hand
from county.setting_up import SAMPLE_PLAN
from county.settings import settings_from
from dashboard.curves import explained, step_curves
from dashboard.earlier import Earlier, earlier_of
from tests.builders import a_full_opening, after, before, clock
from tests.dashboard.a_board import a_board


def curve(name: str, *entries: Any, **more: Any) -> dict[str, Any]:
    return next(each for each in step_curves(a_board(*entries, **more)) if each["name"] == name)


def test_a_curve_rises_when_a_place_is_done_and_ends_now() -> None:
    powered = curve("Powered", *a_full_opening("P014"), now=before(10))
    assert powered["says"] == "1 of 3"
    shares = [share for _, share in powered["today"]]
    assert shares[0] == 0
    assert shares[-1] == 1 / 3
    assert shares == sorted(shares)
    assert powered["today"][-1][0] < powered["earlier"][-1][0] if powered["earlier"] else True


def test_the_earlier_election_stands_at_each_places_own_opening() -> None:
    earlier = Earlier("2024 General Election", {"open": {"P014": 0, "P016": 0, "P099": 30}})
    opened = curve("Open", now=after(5), earlier=earlier)
    assert [round(share, 2) for _, share in opened["earlier"]][-1] == 0.67
    assert opened["detail"].endswith("0 of 3 places; 1 of 3 by this time at the 2024 General Election")
    assert "2024 General Election" in explained(a_board(earlier=earlier))


def test_without_an_earlier_election_nothing_is_said_of_one() -> None:
    assert curve("Open")["earlier"] == []
    assert explained(a_board()) == "Dotted: when the step is due."


def test_near_closing_the_closing_steps_take_over() -> None:
    names = [each["name"] for each in step_curves(a_board(now=clock("18:30")))]
    assert names == ["Closed", "Results printed", "Balanced", "Received"]


def test_the_sample_countys_earlier_election_is_read() -> None:
    file = SAMPLE_PLAN.parent / "earlier_election" / "earlier_steps.csv"
    earlier = earlier_of(parse_earlier_steps(file.read_text(encoding="utf-8"), file.name))
    assert earlier is not None
    assert earlier.election == "2024 General Election"
    assert earlier.places == 47
    assert earlier_of([]) is None


def test_a_spoilt_file_of_an_earlier_election_does_not_keep_the_board_from_starting(tmp_path: Path) -> None:
    settings = settings_from({"POLLRISE_DATA": str(tmp_path), "POLLRISE_PLAN": str(tmp_path / "plan.toml")})
    (tmp_path / "earlier_steps.csv").write_text("election,place\nx,y\n", encoding="utf-8")
    assert earlier_of(earlier_steps_at_hand(settings)) is None
