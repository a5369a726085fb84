"""What happened, and who knew when?"""

from collections.abc import Callable, Mapping

import streamlit as st

from county.domain.both_orders import View
from county.domain.logs_beside import DeviceBeside
from county.domain.milestones import Milestone
from county.domain.picture import Picture
from county.domain.record.late_openings import LateOpening, late_openings
from dashboard import entry_words, feed, going, layout, place_day_chart, shown, then, words
from dashboard.board_now import Board
from dashboard.feed import once
from dashboard.markup import Markup, tag, text
from dashboard.review import (
    answers,
    device_logs,
    differences,
    earlier_choice,
    earlier_table,
    foresight,
    kind_table,
    late_table,
    lost_table,
    record_table,
    responses,
    rover_table,
    silence_table,
    slider,
)
from dashboard.review import moment as moments
from dashboard.review.ended import at_its_end
from dashboard.review.parts import choose_part, chosen_part
from dashboard.review_pack import part as pack_part

MAP_HIGH = 250


def review(board: Board) -> None:
    """The part of the record that was chosen."""
    if not board.places:
        layout.heading(board, "Nothing is recorded yet.")
        layout.empty("The roster is empty.", "Load it with: python -m county roster load FILE...")
        return
    LAID_OUT[chosen_part()](board)


def the_day(board: Board) -> None:
    """Any moment of the day: what the office knew beside what was so, and where the two differ."""
    record = at_its_end(board)
    moment = slider.moment_at(record)
    layout.heading(board, moments.sentence(moment, record))
    slider.show(record, moment)
    layout.note("Grey behind the slider: openings the office had not heard of for five minutes or more.")
    if once(moments.roll, record).name != st.session_state.get("roll"):
        # the roster has changed since the page was opened
        shown.places_roll(once(moments.roll, record).data(), key="roll-anew")
    left, *maps = st.columns([1.1, 1, 1], gap="medium")
    with left:
        layout.section("How many places stood how", f"at {board.wall.minute(moment.at)}")
        st.html(moments.counts(moment))
    for side, column, says in zip(("known", "happened"), maps, _SIDES, strict=True):
        with column:
            layout.section(says)
            data = moments.map_of(moment, record, side)
            shown.map_of_places(data, key=f"map-{side}", high=MAP_HIGH, chosen=going.to_review)
    apart(record, moment)
    layout.section("Open another page as at this time")
    st.html(_other_pages(moment))


_SIDES = ("As the office knew it then", "As it happened")


def apart(board: Board, moment: moments.Moment) -> None:
    """Where the two differ, by how much, and who had acted."""
    many = words.counted(len(moment.apart), "place")
    layout.section("Where the two differ", many if moment.apart else "nowhere")
    if moment.apart:
        replay = feed.current().replaying.replay()
        rows = differences.rows(moment, board, replay)
        shown.rows(rows, key="apart", label="Places that differ", kind="few", chosen=going.to_review)
        layout.note(differences.more(moment))


def _other_pages(moment: moments.Moment) -> Markup:
    views = ((View.KNOWN, "as known then"), (View.HAPPENED, "as it happened"))
    links = [
        tag("a", text(f"{page}, {says}"), href=f"{path}{then.address_of(moment.at, view)}", target="_self")
        for page, path in (("County", "/"), ("Exceptions", "/exceptions"))
        for view, says in views
    ]
    return tag("ul", *(tag("li", link) for link in links), cls="pr-links")


def one_place(board: Board) -> None:
    """One place's record: the five answers, its day as a picture, its cases, and every entry."""
    record = at_its_end(board)
    chosen = going.chosen_place(record)
    now, picture = record.place_by_id[chosen], feed.current().picture
    layout.heading(board, answers.sentence(record, now))
    late = next((each for each in once(late_openings_of, record, picture) if each.place.place == chosen), None)
    st.html(answers.five(record, now, picture.places[chosen], late))
    layout.section("Its day", "a dot is done, a ring is when it was due, a bar is how long it lasted")
    layout.sideways()
    with st.container(key="day"):
        chart = once(place_day_chart.place_day, record, chosen)
        st.vega_lite_chart(chart, key="day-chart", alt=f"The day of {now.place.name}.")
    if now.cases:
        layout.section("Its cases", "minutes from when each was raised; the county's target beside them")
        st.html(record_table.cases(record, now.cases))
    layout.section("Its record", words.counted(len(now.day.told), "entry", "entries") + ", in the order they happened")
    st.html(record_table.record(record, now))
    layout.note(entry_words.other_days(now.day.told, record))
    every = once(logs_of, record, picture, feed.current().logs.read_new())
    here = [each for each in every if each.place == chosen]
    if here:
        layout.section("Its devices' own logs", device_logs.sentence(here))
        st.html(device_logs.of_a_place(record, here))


def late_openings_of(board: Board, picture: Picture) -> tuple[LateOpening, ...]:
    """Every late opening, once for everybody."""
    return late_openings(picture, board.as_of)


def response(board: Board) -> None:
    """How long cases waited, by what they can be told apart by."""
    record, picture = at_its_end(board), feed.current().picture
    milestone = Milestone(st.session_state.get("response-of", Milestone.ACKNOWLEDGED))
    layout.heading(board, once(responses.sentence, record, picture, milestone))
    layout.note(once(responses.against_targets, record, picture, milestone))
    left, right = st.columns(2)
    left.segmented_control(
        "Until",
        list(responses.OF),
        default=milestone,
        format_func=responses.OF.__getitem__,
        key="response-of",
        required=True,
    )
    right.segmented_control(
        "By",
        list(responses.BY),
        default="effect",
        format_func=responses.BY.__getitem__,
        key="response-by",
        required=True,
    )
    by = str(st.session_state.get("response-by") or "effect")
    chart, drawn = once(responses.of_group, record, picture, by, milestone)
    with st.container(key="response"):
        st.vega_lite_chart(chart, key="response-chart", alt="Share of cases not yet reached against minutes.")
    st.html(drawn)
    layout.note(
        f"Cases still open count as waiting up to {board.wall.minute(record.as_of)}, the end of this record. "
        "No government publishes targets for these times; those shown are the county's own."
    )


def a_table(build: Callable[[Board, Picture], tuple[str, Markup]], note: str = "") -> Callable[[Board], None]:
    """A part that is one sentence and one table."""

    def lay_out(board: Board) -> None:
        record = at_its_end(board)
        says, drawn = once(build, record, feed.current().picture)
        layout.heading(board, says)
        if drawn:
            st.html(drawn)
        layout.note(note)

    return lay_out


def logs(board: Board) -> None:
    """Devices' own logs, held against what was reported."""
    record, picture = at_its_end(board), feed.current().picture
    every = once(logs_of, record, picture, feed.current().logs.read_new())
    layout.heading(board, device_logs.sentence(every))
    if every:
        st.html(device_logs.overview(record, every))
    layout.note(
        "A log stands beside the day and changes nothing of it. What an event id means is the plan's to say; silence "
        "is never taken for agreement. Logs come in by python -m county device-log load FILE..., or from drop/logs/in."
    )


def logs_of(board: Board, picture: Picture, newest: int) -> tuple[DeviceBeside, ...]:
    """Every device of every log, once for everybody."""
    return feed.current().logs.beside(picture)


def earlier(board: Board) -> None:
    """This election beside an earlier one."""
    record, picture = at_its_end(board), feed.current().picture
    with st.container():
        steps = earlier_choice.chosen(picture)
    says, drawn = earlier_table.beside_earlier(record, picture, steps)
    layout.heading(board, says)
    if drawn:
        st.html(drawn)
    layout.note("Before and after are of each place's own opening time. Places that did not do a step are not in it.")
    earlier_choice.send_up()


LAID_OUT: Mapping[str, Callable[[Board], None]] = {
    "day": the_day,
    "place": one_place,
    "response": response,
    "late": a_table(
        late_table.late,
        "What was the matter is what was open there at its opening time or arose until it opened; "
        "the record does not say that it was the cause.",
    ),
    "lost": a_table(
        lost_table.lost,
        "Minutes lost are late opening and stops of the whole place, overlaps once, up to closing. "
        "A court or a board decides what follows; the program documents.",
    ),
    "silences": a_table(silence_table.silent),
    "kinds": a_table(kind_table.kinds, "By a report: cleared because a report showed that it was over."),
    "forecasts": foresight.foresight,
    "rovers": a_table(rover_table.rovers, "Minutes are from what rovers and the desk wrote down; overlaps count once."),
    "logs": logs,
    "earlier": earlier,
    "pack": pack_part.pack,
}


def choose_place() -> None:
    """The chooser of a place stands outside what is redrawn, so that a list of thousands is sent once."""
    board = feed.newest()
    if board and board.places and chosen_part() == "place":
        going.place_chooser(board)


def send_roll() -> None:
    """The places of the maps stand outside what is redrawn too."""
    board = feed.newest()
    if board and board.places and chosen_part() == "day":
        on_the_maps = once(moments.roll, at_its_end(board))
        st.session_state["roll"] = on_the_maps.name
        shown.places_roll(on_the_maps.data(), key="roll")


choose_part()
choose_place()
send_roll()
layout.live(review, lambda newest: newest, to_its_end=chosen_part() != "pack")
if chosen_part() == "pack":
    pack_part.controls()
    layout.cautions()
