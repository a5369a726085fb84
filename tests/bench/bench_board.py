"""How long a page of the board takes, at 2,000 and 10,000 places, and whether the number of entries matters.

Script time is one run of a page's script in Streamlit's own harness, drawn from a board that nobody has drawn from
yet (the first person after news) and once more (everybody else), in milliseconds of processor. Targets: under 300 ms,
and no longer with ten times the entries.
"""

import logging
import random
import statistics
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import TypeVar

from streamlit.testing.v1 import AppTest

from county.domain.dispatch import suggest
from county.domain.entries import Entry
from county.domain.expected import expected_of
from county.domain.openings import forecast_openings
from county.domain.picture import Picture
from county.domain.plan import Plan
from county.domain.plan_file import parse_plan
from county.domain.roster import Roster
from county.domain.step_paces import paces_of_plan
from county.rehearsal.roster import made_up_county
from county.setting_up import SAMPLE_PLAN
from dashboard.board_now import Board, newer
from dashboard.feed import Feed
from tests.builders import a_count, a_step, an_exception
from tests.dashboard.a_board import a_feed

T = TypeVar("T")
DASHBOARD = Path(__file__).parents[2] / "dashboard"
PAGES = ("county", "exceptions", "place", "lines")
MORNING = ("staffed", "site-ready", "powered", "pollbooks-ready", "open")
ROUNDS = 7
TARGET_MS = 300
BEFORE_OPENING = timedelta(minutes=-20)
"""When every place has a forecast still."""
NOISE = 1.5
"""Two runs of the same script on a shared machine differ by as much."""


def main() -> int:
    """Measure and print; 1 where a page takes longer than its target or longer because of more entries."""
    logging.getLogger("streamlit").setLevel(logging.ERROR)
    plan = parse_plan(SAMPLE_PLAN.read_text(encoding="utf-8"), str(SAMPLE_PLAN))
    county = made_up_county(2_000)
    few, many = script_times([a_folded_board(county, each, plan) for each in (35, 350)])
    (large,) = script_times([a_folded_board(made_up_county(10_000), 10, plan)])
    (morning,) = script_times([a_folded_board(made_up_county(10_000), 5, plan, BEFORE_OPENING)])
    ratio = max(many[page] / few[page] for page in PAGES)
    slowest = max(*few.values(), *many.values(), *large.values(), *morning.values())
    print(f"ten times the entries: at most {ratio:.2f} times as long   (target: as long, with noise under {NOISE})")
    print(f"the slowest page: {slowest:.0f} ms   (target {TARGET_MS} ms)")
    return 0 if slowest < TARGET_MS and ratio < NOISE else 1


def a_folded_board(
    roster: Roster, entries_each: int, plan: Plan, after_opening: timedelta = timedelta(minutes=75)
) -> Board:
    """The board of a county with so many entries from each place; prints what it took to fold and to follow."""
    now = expected_of(roster, plan)[roster.places[0].place].opens_at + after_opening
    entries = [entry for entry in a_morning(roster, plan, entries_each, now) if entry.happened_at <= now]
    picture, folding = timed(lambda: Picture.of(roster, plan, entries))
    board, making = timed(lambda: newer(None, picture, (), now))
    one_more = [a_count(now, place=roster.places[0].place, public_counter=9)]
    _, following = timed(lambda: newer(board, picture, picture.add(one_more), now + timedelta(seconds=1)))
    print(
        f"{len(roster.places):,} places, {len(entries):,} entries: folded in {folding:,.0f} ms; the board of a new "
        f"minute in {making:,.0f} ms, after one more entry in {following:,.0f} ms; {len(board.cases):,} open cases"
    )
    found, suggesting = timed(lambda: suggest(board.every_case, roster, plan, plan.dispatch, now))
    print(f"  whom to send, beside the drawing: {len(roster.rovers):,} rovers in {suggesting:,.0f} ms")
    states = picture.places.values()
    ahead, foreseeing = timed(lambda: forecast_openings(states, paces_of_plan(plan), plan, now))
    print(f"  when they will open, beside the drawing: {len(ahead):,} places in {foreseeing:,.0f} ms")
    return replace(board, dispatch=found, forecasts=ahead)


def script_times(boards: Sequence[Board]) -> list[dict[str, float]]:
    """For each board the median ms of every page's script; boards of one county, drawn in turns."""
    times: list[dict[str, float]] = [{} for _ in boards]
    with drawn_from(boards[0]) as feed:
        for page in PAGES:
            app = AppTest.from_file(str(DASHBOARD / "board.py"), default_timeout=60).run()
            if page != "county":
                app.switch_page(str(DASHBOARD / "pages_" / f"{page}.py")).run()
            runs: list[list[tuple[float, float]]] = [[] for _ in boards]
            for number in (number for _ in range(ROUNDS) for number in range(len(boards))):
                feed.latest = replace(boards[number], made={})
                runs[number].append((timed(app.run)[1], timed(app.run)[1]))
                assert not app.exception
            for number, of_board in enumerate(runs):
                first, others = (statistics.median(each) for each in zip(*of_board, strict=True))
                times[number][page] = first
                print(f"  {page:<11}{first:6.0f} ms, everybody after the first {others:5.0f} ms")
    return times


@contextmanager
def drawn_from(board: Board) -> Iterator[Feed]:
    """The pages' feed with this board in it; its database knows the county and nothing else."""
    with tempfile.TemporaryDirectory() as folder, a_feed(Path(folder), roster=board.roster, plan=board.plan) as feed:
        yield feed


def a_morning(roster: Roster, plan: Plan, each: int, now: datetime) -> Iterator[Entry]:
    """Steps and then counts from every place, some of them late, some silent, some with trouble."""
    chance = random.Random(1)
    expected = expected_of(roster, plan)
    for place in roster.places:
        if chance.random() < 0.01:
            continue
        opens_at, late = expected[place.place].opens_at, chance.random() < 0.1
        for number, step in enumerate(MORNING[: 4 if late else 5]):
            yield a_step(step, opens_at - timedelta(minutes=10 * (4 - number)), place=place.place)
        for number in range(each - 5):
            at = opens_at + timedelta(minutes=70) * number / each
            told = {"public_counter": number, "check_ins": number, "in_line": number % 9, "ballots_left": 900 - number}
            yield a_count(at, place=place.place, **told)
        if chance.random() < 0.05:
            yield an_exception("scanner-jam", now - timedelta(minutes=chance.randrange(60)), place=place.place)


def timed(build: Callable[[], T]) -> tuple[T, float]:
    """What it builds, and the milliseconds of processor it took: the clock on the wall measures the neighbours too."""
    began = time.process_time()
    built = build()
    return built, (time.process_time() - began) * 1000


if __name__ == "__main__":
    raise SystemExit(main())
