"""What stands beside a place's day: where it is, its devices and seals, and everything that was reported."""

from collections.abc import Iterable, Mapping

from county.domain.corrections import PutRight
from county.domain.custody import BACK
from county.domain.entries import Entry
from county.domain.picture import PlaceNow
from county.domain.plan import Anchor
from county.domain.roster import Device
from county.domain.seals import position_of, same_number
from dashboard import entry_words, words
from dashboard.board_now import Board
from dashboard.lines import said
from dashboard.lines.found import place_line, place_paper
from dashboard.markup import Markup, quiet, tag, text

NEWEST = 30


def contact(board: Board, now: PlaceNow) -> Markup:
    """Where the place is, how to reach it, its hours and the precincts that vote there."""
    place = now.place
    precincts = board.roster.precincts_at.get(place.place, ())
    votes = "every precinct of the county" if place.serves == "all" else words.listed(p.name for p in precincts)
    heard = now.day.last_heard_at
    lines = (
        ("telephone", place.phone or "none on the roster"),
        ("address", words.commas([place.address, place.city]) or "none on the roster"),
        ("hours", f"{board.wall.minute(now.expected.opens_at)} to {board.wall.minute(now.expected.closes_at)}"),
        ("zone", place.zone or "none"),
        ("serves", votes or "no precinct on the roster"),
        (
            "last heard",
            f"{board.wall.second(heard)}, {words.span(board.as_of - heard)} ago" if heard else "never",
        ),
        ("wait", said.wait_here(board, place_line(board, now))),
        ("ballots", said.ballots_here(board, place_paper(board, now))),
        ("time lost", words.counted(now.lost_minutes, "minute") if now.lost_minutes else ""),
    )
    return tag(
        "dl", *(tag("dt", text(name)) + tag("dd", text(value)) for name, value in lines if value), cls="pr-facts"
    )


def devices(board: Board, now: PlaceNow) -> Markup:
    """Each device with its counters and seals, as recorded at final testing and as found."""
    found = [_device(board, now, device) for device in board.roster.devices_at.get(now.place.place, ())]
    return tag("ul", *found, cls="pr-devices") if found else tag("p", text("No device on the roster."), cls="pr-note")


def _device(board: Board, now: PlaceNow, device: Device) -> Markup:
    kind = board.plan.word(device.type)
    parts = [tag("p", tag("b", text(device.device)), text(" "), quiet(words.commas([kind, device.model])))]
    readings = [e for e in (*now.day.steps, *now.day.counts) if e.device == device.device]
    counter = _last(readings, "protective_counter")
    if device.protective_counter is not None:
        parts.append(
            _compared(
                "protective counter", f"{device.protective_counter:,}", f"{counter:,}" if counter is not None else ""
            )
        )
    count = _last(readings, "public_counter")
    if count is not None:
        parts.append(tag("p", quiet("public counter "), text(f"{count:,}")))
    seen = _seals_found(now, device.device)
    for position, number in now.expected.seals.get(device.device, {}).items():
        parts.append(_compared(f"{position} seal", number, seen.get(position, "")))
    parts += [
        tag("p", quiet(f"{where} seal "), text(number), quiet(" put on at the end"))
        for where, number in _put_on(now, device.device)
    ]
    return tag("li", *parts)


def _compared(name: str, recorded: str, found: str) -> Markup:
    """Recorded and found beside each other; a difference is said in a word."""
    if not found:
        return tag("p", quiet(f"{name} "), text(recorded), quiet(" recorded, not yet looked at"))
    if same_number(found, recorded):
        return tag("p", quiet(f"{name} "), text(recorded), quiet(" recorded and found"))
    return tag("p", quiet(f"{name} "), tag("span", text(found), cls="pr-warn"), quiet(f" found, {recorded} recorded"))


def _last(entries: Iterable[Entry], field: str) -> int | None:
    told = [(entry.happened_at, number) for entry in entries if (number := entry.number(field)) is not None]
    return max(told)[1] if told else None


def _seals_found(now: PlaceNow, device: str) -> Mapping[str, str]:
    recorded = now.expected.seals.get(device, {})
    before = {step.key for step in now.expected.steps if step.step.before_opening}
    looked = [
        entry
        for entry in now.day.steps
        if entry.device == device and entry.text("seal_number") and entry.text("step") in before
    ]
    return {position_of(entry, recorded): entry.text("seal_number") for entry in looked}


def _put_on(now: PlaceNow, device: str) -> list[tuple[str, str]]:
    """The seals put on after the polls closed, by position: new numbers, which nothing is held against."""
    closing = {step.key for step in now.expected.steps if step.step.anchor is Anchor.CLOSING} - {BACK}
    put_on = [e for e in now.day.steps if e.device == device and e.text("seal_number") and e.text("step") in closing]
    return list({entry.text("seal_position"): entry.text("seal_number") for entry in put_on}.items())


def entries(board: Board, now: PlaceNow, most: int = NEWEST) -> Markup:
    """The newest entries first; what was put right is struck, with the correction beneath it."""
    put_right = {each.told.key: each for each in now.day.corrected}
    newest = sorted(now.day.told, key=lambda entry: (entry.received_at, entry.seq), reverse=True)[:most]
    head = tag("tr", *(tag("th", text(name), scope="col") for name in ("Happened", "Learned", "What", "From")))
    rows = [_entry(entry, put_right.get(entry.key), board) for entry in newest]
    return tag("table", tag("thead", head), tag("tbody", *rows), cls="pr-entries")


def _entry(entry: Entry, righted: PutRight | None, board: Board) -> Markup:
    clock = entry_words.by_whose_clock(entry)
    what = text(entry_words.what(entry, board)) + (quiet(f" ({clock})") if clock else "")
    if righted:
        by = words.listed(f"{each.by} {board.wall.minute(each.received_at)}" for each in righted.corrections)
        stands = entry_words.what(righted.stands, board) if righted.stands else "withdrawn"
        what = tag("s", what) + tag("p", text(f"Now: {stands}. "), quiet(f"Put right by {by}."))
    cells = (
        text(entry_words.happened(entry, board)),
        text(board.wall.second(entry.received_at)),
        what,
        text(entry_words.sender(entry)),
    )
    return tag("tr", *(tag("td", cell) for cell in cells))
