"""Places as rows and as a frame, worst first: what the lists and the table of the pages show."""

from collections import Counter

import pandas as pd

from county.domain.cases import State
from county.domain.roster import Place
from dashboard import foreseen, words
from dashboard.board_now import Board
from dashboard.feed import once
from dashboard.list_row import ListRow
from dashboard.looks import Group, Look, looks, says

CHART_ROWS, FEW_ROWS, SILENT_ROWS, MOST_ZONES = 12, 8, 5, 12


def for_the_chart(board: Board, most: int = CHART_ROWS) -> tuple[Look, ...]:
    """The places that need a look, and when these are few, the ones least far along beside them."""
    every = once(looks, board)
    needing = [look for look in every if look.group.needs_a_look][:most]
    others = [look for look in every if look.group in (Group.OPEN, Group.ON_COURSE, Group.NOT_DUE)]
    others.sort(key=lambda look: (look.group is Group.NOT_DUE, -_chance_late(look), len(look.now.day.done), look.rank))
    return (*needing, *others[: max(0, min(FEW_ROWS, most) - len(needing))])


def _chance_late(look: Look) -> float:
    """To a tenth: what is said of a place, and enough to put one row before another."""
    return round(look.forecast.chance_late, 1) if look.forecast else 0.0


def folded(board: Board, most: int = CHART_ROWS) -> str:
    """The places that are not drawn one by one: how many need a look still, and the rest counted by zone."""
    drawn = {look.now.place.place for look in once(for_the_chart, board, most)}
    rest = [look for look in once(looks, board) if look.now.place.place not in drawn]
    more = sum(1 for look in rest if look.group.needs_a_look)
    zones = Counter(look.now.place.zone or "no zone" for look in rest if not look.group.needs_a_look)
    others = _by_zone(zones)
    said = [
        f"{words.counted(more, 'more place needs', 'more places need')} a look." if more else "",
        f"{words.counted(sum(zones.values()), 'other place needs', 'other places need')} none: {others}."
        if zones
        else "",
    ]
    return " ".join(part for part in said if part)


def _by_zone(zones: Counter[str]) -> str:
    """Each zone with its number of places; only how many zones there are where nobody would read them all."""
    if len(zones) > MOST_ZONES:
        return f"in {words.counted(len(zones), 'zone')}"
    return ", ".join(f"{zone} {count:,}" for zone, count in zones.most_common())


def look_rows(board: Board) -> list[ListRow]:
    """The chart's rows as a list, for a narrow screen."""
    return [
        ListRow(look.now.place.place, look.mark, look.now.place.name, says(look, board), beside=look.now.place.zone)
        for look in once(for_the_chart, board, CHART_ROWS)
    ]


def unheard(board: Board) -> list[ListRow]:
    """Places that should have been heard from and were not, the longest silent first; the first few of them."""
    silent = [look for look in once(looks, board) if look.group is Group.UNHEARD]
    silent.sort(key=lambda look: (look.now.expected.first_due_at, look.now.place.place))
    return [_unheard_row(look, board) for look in silent[:SILENT_ROWS]]


def _unheard_row(look: Look, board: Board) -> ListRow:
    place, due = look.now.place, look.now.expected.first_due_at
    case = next((case for case in look.now.open_cases if case.exception in ("silent", "late-opening")), None)
    return ListRow(
        id=place.place,
        mark="unheard",
        title=place.name,
        beside=place.phone or "no telephone on the roster",
        says=f"first step was due {words.clock(due, board.zone)}, {words.span(board.as_of - due)} ago",
        state=words.STATE[case.state] if case else "",
        alarm=case is not None and case.state is State.RAISED,
    )


def place_names(board: Board) -> dict[str, str]:
    """Every place by id, with its name and the precincts that vote there, to be found by any of them."""
    return {now.place.place: _place_name(board, now.place) for now in board.places}


def _place_name(board: Board, place: Place) -> str:
    precincts = () if place.serves == "all" else board.roster.precincts_at.get(place.place, ())
    return words.commas([place.name, place.place, *(precinct.name for precinct in precincts)])


def places_frame(board: Board) -> pd.DataFrame:
    """Every place, worst first: the map and the chart in words."""
    rows = [_in_words(look, board) for look in once(looks, board)]
    return pd.DataFrame(rows).astype({"Minutes late": "Int64", "Open cases": "Int64"})


def _in_words(look: Look, board: Board) -> dict[str, object]:
    place, opened = look.now.place, look.now.day.opened_at
    return {
        "Place": place.name,
        "Id": place.place,
        "Standing": words.STANDING[look.now.standing],
        "What is the matter": says(look, board) if look.group.needs_a_look else "",
        "Zone": place.zone,
        "Steps done": len(look.now.day.done),
        "Opened": words.clock(opened, board.zone) if opened else "",
        "Likely to open": foreseen.moment(look.forecast, board) if look.forecast else "",
        "Chance that it is late": foreseen.in_ten(look.forecast.chance_late) if look.forecast else "",
        "Minutes late": look.now.minutes_late or None,
        "Open cases": len(look.now.open_cases) or None,
        "Telephone": place.phone,
    }
