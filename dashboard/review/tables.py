"""The day's tables: late openings, time lost, silences, exceptions by kind, forecasts, rovers, an earlier election."""

from collections.abc import Iterable, Sequence
from datetime import timedelta

from county.domain.earlier_steps import EarlierStep
from county.domain.effects import Effect
from county.domain.interruptions import Interruption
from county.domain.picture import Picture
from county.domain.record.by_kind import by_kind
from county.domain.record.earlier_compared import Spread, compared
from county.domain.record.forecasts import ForecastRecord, forecasts
from county.domain.record.late_openings import LateOpening, late_openings
from county.domain.record.rover_loads import rover_loads
from county.domain.record.silences import silences
from county.domain.record.time_lost import TimeLost, time_lost
from county.domain.record.who_knew import first_to_act
from dashboard import words
from dashboard.board_now import Board
from dashboard.looks import trouble
from dashboard.markup import Markup, mark, quiet, text
from dashboard.review.table import cells, table


def late(board: Board, picture: Picture) -> tuple[str, Markup]:
    """What to say of late openings, and each of them."""
    every = late_openings(picture, board.as_of)
    if not every:
        return "No place opened late.", ""
    opened = [each for each in every if each.opened_at]
    missing = len(every) - len(opened)
    says = " ".join(
        part
        for part in (
            f"{words.counted(len(opened), 'place')} opened late, the latest by "
            f"{words.counted(opened[0].minutes, 'minute')}."
            if opened
            else "",
            f"{words.counted(missing, 'place is', 'places are')} not reported open." if missing else "",
        )
        if part
    )
    heads = ("Place", "Its own time", "Opened", "Minutes late", "Office knew", "Who first acted", "What was the matter")
    return says, table(heads, [_late(board, each) for each in every], label="Late openings")


def _late(board: Board, each: LateOpening) -> list[Markup]:
    how = each.opening
    behind = quiet(f" {words.span(how.behind)} later") if how and words.whole_minutes(how.behind) else ""
    matter = words.listed(words.unbegun(trouble(case, board.plan)) for case in each.trouble)
    said = words.commas([matter, f"the place wrote: {each.told}" if each.told else ""]) or "the record does not say"
    return [
        *cells(
            words.commas([each.place.name, each.place.place]),
            words.clock(each.opens_at, board.zone),
            words.clock(each.opened_at, board.zone, seconds=True) if each.opened_at else "not reported",
            each.minutes,
        ),
        text(words.clock(how.learned_at, board.zone) if how else "") + behind,
        *cells((first_to_act(each.late) if each.late else "") or "nobody", said),
    ]


def lost(board: Board, picture: Picture) -> tuple[str, Markup]:
    """What to say of time lost, and each place that lost any or had an interruption."""
    every = time_lost(picture, board.as_of)
    if not every:
        return "No place lost time, and none reported an interruption.", ""
    counted = [each for each in every if each.minutes and each.opened_at]
    missing = sum(each.opened_at is None for each in every)
    limits = board.plan.limits
    threshold = f"{'at least' if limits.extension_inclusive else 'more than'} {limits.extension_minutes} minutes"
    reach = sum(each.reaches_threshold for each in counted)
    says = (
        f"{words.counted(len(counted), 'place')} lost {words.counted(sum(e.minutes for e in counted), 'minute')} of "
        f"voting in all; {reach:,} of them lost {threshold}, the county's threshold."
    )
    if missing:
        says += f" {words.begun(words.counted(missing, 'place is', 'places are'))} not reported open at all."
    heads = ("Place", "Late", "Stops", "Minutes lost", "Closes at", "If given back", "Recorded, not counted")
    return says, table(heads, [_lost(board, each) for each in every], label="Time lost")


def _lost(board: Board, each: TimeLost) -> list[Markup]:
    stops = words.listed(
        f"{words.clock(stop.begins, board.zone)} to {words.clock(stop.ends, board.zone)} "
        f"{words.unbegun(board.plan.kind(stop.why.exception).says)}"
        for stop in each.stops
        if stop.why
    )
    return cells(
        words.commas([each.place.name, each.place.place]),
        "not reported open" if each.opened_at is None else f"{each.late_minutes} min" if each.late_minutes else "",
        stops,
        each.minutes if each.opened_at else "not known",
        words.clock(each.closes_at, board.zone),
        words.clock(each.closes_if_given_back, board.zone) if each.reaches_threshold and each.opened_at else "",
        words.listed(_impaired(board, one) for one in each.impaired),
    )


def _impaired(board: Board, each: Interruption) -> str:
    ends = words.clock(each.ends, board.zone) if each.ends else "no end told"
    kind = words.unbegun(board.plan.kind(each.exception).says)
    device = f" at {each.device}" if each.device else ""
    # a stop of the whole place that is not counted is one that a person withdrew
    withdrawn = " (withdrawn)" if each.effect in (Effect.STOPPED, Effect.DANGER) and not each.device else ""
    return f"{words.clock(each.begins, board.zone)} to {ends} {words.EFFECT[each.effect]}{device}, {kind}{withdrawn}"


def silent(board: Board, picture: Picture) -> tuple[str, Markup]:
    """What to say of silences, and each of them."""
    every = silences(picture, board.as_of)
    if not every:
        return "Every place was heard from as often as the plan asks.", ""
    places = len({each.place.place for each in every})
    never = sum(each.until is None for each in every)
    lasting = f" {words.counted(never, 'of them lasts', 'of them last')} to the end of the record." if never else ""
    heard = f"{words.counted(len(every), 'silence')} at {words.counted(places, 'place')}"
    says = f"{heard}, longer than the plan allows.{lasting}"
    heads = ("Place", "Heard from last, or due", "Heard from again", "Length", "Plan allows", "Noticed", "Who acted")
    rows = [
        cells(
            words.commas([each.place.name, each.place.place]),
            words.clock(each.since, board.zone, seconds=True),
            words.clock(each.until, board.zone, seconds=True) if each.until else "not any more",
            words.span(each.length),
            words.span(each.allowed),
            words.clock(each.noticed.learned_at, board.zone) if each.noticed else "no",
            first_to_act(each.noticed) if each.noticed else "",
        )
        for each in every
    ]
    return says, table(heads, rows, label="Silences")


def kinds(board: Board, picture: Picture) -> tuple[str, Markup]:
    """What to say of exceptions by kind, and each kind."""
    every = by_kind(picture.cases(), board.plan, board.as_of)
    if not every:
        return "No exception was raised.", ""
    cases, still = sum(each.cases for each in every), sum(each.open for each in every)
    says = f"{words.counted(cases, 'case')} of {words.counted(len(every), 'kind')}; {still:,} still open."
    heads = (
        "Kind",
        "Worst effect",
        "Cases",
        "Places",
        "Open",
        "Cleared",
        "By a report",
        "Withdrawn",
        "Half cleared in",
    )
    rows = [
        [
            mark(each.worst.value) + text(each.says),
            text(words.EFFECT[each.worst]),
            *cells(each.cases, each.places, each.open, each.cleared, each.cleared_by_facts, each.withdrawn),
            text(f"{each.clearing.median} min"),
        ]
        for each in every
    ]
    return says, table(heads, rows, label="Exceptions by kind")


def foreseen(board: Board, picture: Picture) -> tuple[str, Markup]:
    """What to say of forecasts, and each of them against what happened."""
    found = forecasts(picture, board.as_of)
    says = _foreseen(found)
    if not found.told:
        return says, ""
    heads = ("Place", "Said", "By", "What was said", "Its own time", "Opened", "Minutes late", "Came true")
    rows = [
        cells(
            words.commas([each.place.name, each.place.place]),
            words.clock(each.case.learned_at, board.zone),
            "the place" if each.case.raised_by == each.case.place else each.case.raised_by,
            each.case.says,
            words.clock(each.opens_at, board.zone),
            words.clock(each.opened_at, board.zone) if each.opened_at else "not reported",
            each.minutes_late,
            {True: "yes", False: "no", None: "not known yet"}[each.came_true],
        )
        for each in found.told
    ]
    return says, table(heads, rows, label="Forecasts")


def _foreseen(found: ForecastRecord) -> str:
    unforeseen = words.counted(len(found.unforeseen), "late opening")
    if not found.told:
        return f"The ledger holds no forecast of a late opening; {unforeseen} came without one."
    return (
        f"{words.counted(len(found.told), 'forecast')} of a late opening: {found.came_true:,} came true, "
        f"{found.did_not:,} did not. {words.begun(unforeseen)} had no forecast."
    )


def rovers(board: Board, picture: Picture) -> tuple[str, Markup]:
    """What to say of the rovers' loads, and each rover."""
    every = rover_loads(picture, board.as_of)
    had = [each for each in every if each.stints]
    if not every:
        return "There are no rovers on the roster.", ""
    stints = sum(len(each.stints) for each in had)
    says = f"{words.counted(len(had), 'rover')} of {len(every):,} had {words.counted(stints, 'case')} between them."
    missing = sum(each.no_way_time + each.no_site_time for each in had)
    if missing:
        says += f" {words.begun(words.counted(missing, 'time is', 'times are'))} missing, so that minutes are too few."
    heads = (
        *("Rover", "Cases", "Reached", "Cleared", "Turned down", "Given over", "Under way", "On site"),
        *("First", "Last", "Times missing"),
    )
    rows = [
        cells(
            words.commas([each.name, each.rover]),
            *(len(each.stints), each.reached, each.cleared, each.turned_down, each.given_over),
            *(_minutes(each.under_way_minutes), _minutes(each.on_site_minutes)),
            words.clock(each.first, board.zone) if each.first else "",
            ("still out" if each.out else words.clock(each.last, board.zone)) if each.last else "",
            each.no_way_time + each.no_site_time,
        )
        for each in every
    ]
    return says, table(heads, rows, label="Rovers' loads")


def _minutes(minutes: int) -> str:
    return words.span(timedelta(minutes=minutes)) if minutes else ""


def beside_earlier(board: Board, picture: Picture, earlier: Sequence[EarlierStep]) -> tuple[str, Markup]:
    """What to say of this election beside an earlier one, and each step before opening."""
    rows = compared(picture, earlier, board.as_of)
    opened = next((row for row in rows if row.step == "open"), None)
    says = f"Beside the {earlier[-1].election}:" if earlier else "No earlier election is at hand."
    if opened and opened.now and opened.then:
        says = (
            f"Half the places were open {_from(opened.now.half)} their own opening time, nine tenths "
            f"{_from(opened.now.nine_tenths)}; at the {earlier[-1].election} half {_from(opened.then.half)}, "
            f"nine tenths {_from(opened.then.nine_tenths)}."
        )
    heads = ("Step", "Half", "Then", "Nine tenths", "Then", "Done by opening", "Then", "Later than then")
    told = [
        cells(
            row.says,
            *_pair(row.now, row.then, "half"),
            *_pair(row.now, row.then, "nine_tenths"),
            f"{row.now.by_opening:,} of {row.due:,}" if row.now else f"0 of {row.due:,}",
            f"{row.then.by_opening:,} of {row.then.places:,}" if row.then else "",
            f"{row.later_than_then:,} of {row.of_both:,}",
        )
        for row in rows
    ]
    return says, table(heads, told, label="Beside an earlier election") if earlier else ""


def _pair(now: Spread | None, then: Spread | None, name: str) -> Iterable[str]:
    return (_from(getattr(each, name)) if each else "nobody" for each in (now, then))


def _from(minutes: int) -> str:
    """Minutes from the opening time in words: 12 min before, at, 3 min after."""
    if not minutes:
        return "at"
    return f"{words.span(timedelta(minutes=abs(minutes)))} {'before' if minutes < 0 else 'after'}"
