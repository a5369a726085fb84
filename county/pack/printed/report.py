"""The report: what is told to its page, section by section."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict

from county.domain.effects import Effect
from county.domain.milestones import Milestone
from county.domain.picture import PlaceNow
from county.domain.record.late_openings import late_openings
from county.domain.standing import Standing
from county.domain.wall import Wall
from county.pack.about import About
from county.pack.printed.charts import response_chart, rise_chart
from county.pack.printed.glance import GLANCE
from county.pack.printed.listing import listing, rows_of
from county.pack.printed.part import Part
from county.pack.printed.place_day import EVERY_UP_TO, chosen, place_day
from county.pack.printed.printed_parts import printed_parts
from county.pack.printed.reading import cautions, reading
from county.pack.printed.typeset import pdf
from county.pack.printed.volumes import in_volume, volume_name
from county.pack.record import Record
from county.pack.subjects.ballots import over_the_county
from county.pack.table import Table

FEW = 40
"""So many rows of a table a large county usually has printed; the rest is in its file, and the page says how many."""
_PRINTED_OF_IT = {
    "Notices": " Printed are how many there were for each role, and one by one those not known to have arrived."
}
_STANDINGS = {
    Standing.UNHEARD: "never heard from",
    Standing.PREPARING: "preparing, not reported open",
    Standing.READY: "ready, not reported open",
    Standing.LATE: "late, not reported open",
    Standing.OPEN: "open, no closing reported",
    Standing.IMPAIRED: "open, voting impaired",
    Standing.STOPPED: "open, voting stopped",
    Standing.CLOSED: "closed",
    Standing.RECEIVED: "received at the office",
}
_SECTIONS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("Late openings", ("late_openings",)),
    ("Forecasts against what happened", ("forecasts", "forecast_scores")),
    ("Time lost", ("time_lost", "interruptions")),
    ("Response times", ("response_times",)),
    ("Exceptions by kind", ("exceptions_by_kind",)),
    ("Silences", ("silences",)),
    ("Rovers", ("rovers",)),
    ("Ballot balance", ("ballot_balance",)),
    ("Custody", ("custody",)),
    ("Notices", ("notices",)),
    ("Corrections", ("corrections",)),
    ("Set aside", ("set_aside",)),
    ("Devices' own logs", ("device_logs", "device_log_faults")),
    ("What is missing", ("missing",)),
    ("Places at a glance", ("places",)),
)


def report_pdf(
    record: Record, about: About, tables: Mapping[str, Table], begins: Mapping[str, Mapping[str, int]]
) -> bytes:
    """The report as a PDF; `tables` are the subjects by name, `begins` each volume's places to their pages."""
    return pdf("report", told(record, about, tables, begins))


def told(
    record: Record, about: About, tables: Mapping[str, Table], begins: Mapping[str, Mapping[str, int]]
) -> dict[str, object]:
    """Everything that the report's page is told."""
    bound = () if record.in_volumes else record.places
    sections = _SECTIONS if bound else _SECTIONS[:-1]
    return {
        "about": asdict(about),
        "told": {"entries": f"{about.entries:,}", "public": record.public},
        "reading": reading(record, about),
        "cautions": cautions(),
        "day": _day(record),
        "sections": [_section(record, title, [tables[name] for name in names]) for title, names in sections],
        "places_say": _places_say(record, bound=bool(bound)),
        "index": _index(record, bound, begins),
        "places": [place_day(record, now) for now in bound],
    }


def _day(record: Record) -> dict[str, object]:
    late = late_openings(record.picture, record.as_of)
    opened = [each for each in late if each.opened_at]
    rows = [
        [
            each.place.place,
            each.place.name,
            Wall(record.zone_of(each.place.place)).minute(each.opened_at) or "–",
            f"{each.minutes}",
        ]
        for each in opened[:10]
    ]
    totals = record.picture.totals(record.as_of)
    return {
        "says": list(_sentences(record, len(opened))),
        "rise": rise_chart(record),
        "latest": rows_of(("Place", "Name", "Opened", "Minutes late"), (4, 0, 5, 4.5), rows, right=3),
        "standings": rows_of(
            ("Places", "Standing"), (5, 0), [[f"{n:,}", _STANDINGS[each]] for each, n in totals.items() if n], right=99
        ),
    }


def _sentences(record: Record, opened_late: int) -> Iterator[str]:
    places, cases = record.places, record.picture.cases()
    opened = sum(now.day.opened_at is not None for now in places)
    yield f"{opened:,} of {len(places):,} places were reported open, {opened_late:,} of them after their own opening."
    never = sum(not now.day.heard for now in places)
    yield f"Places not reported open: {len(places) - opened:,}. Places never heard from: {never:,}."
    grave = sum(case.effect in (Effect.DANGER, Effect.STOPPED) for case in cases)
    still = sum(case.state.open for case in cases)
    yield f"{len(cases):,} cases, {grave:,} of them rated danger or stopped; {still:,} still open at the end."
    lost = [now.lost_minutes for now in places if now.lost_minutes and now.day.opened_at]
    yield f"{sum(lost):,} minutes of voting lost, added up over {len(lost):,} places that were reported open."
    over, known = over_the_county(record)
    if known:
        yield f"Ballots: net {over.net:+,}, absolute {over.absolute:,}, over the {known:,} places that told both sides."
    else:
        yield "Ballots: no place reported both its counters and its count of paper."


def _section(record: Record, title: str, tables: list[Table]) -> dict[str, object]:
    charts: list[dict[str, object]] = []
    if title == "Response times":
        charts = [
            response_chart(record, Milestone.ACKNOWLEDGED, "Not yet acknowledged"),
            response_chart(record, Milestone.ON_SITE, "Nobody on site yet"),
        ]
    effects = sorted({case.effect for case in record.picture.cases()}, key=lambda effect: effect.rank)
    return {
        "title": title,
        "says": f"{tables[0].says}{_PRINTED_OF_IT.get(title, '')}",
        "charts": charts,
        "key": [{"effect": each.value, "says": each.value.replace("-", " ")} for each in effects],
        "chart_says": "Share of cases not yet reached. Upright dotted lines are the county's own targets.",
        "tables": [
            listing(
                part.table,
                part.columns,
                record.zone,
                day=record.plan.election.date,
                most=_most(record, part),
                title=part.title,
                says=part.says,
            )
            for part in printed_parts(record, tables)
        ],
    }


def _most(record: Record, part: Part) -> int:
    return 1_000 if len(record.places) <= EVERY_UP_TO else part.most or FEW


def _index(
    record: Record, bound: Sequence[PlaceNow], begins: Mapping[str, Mapping[str, int]]
) -> list[dict[str, object]]:
    """Where each place's day is: in the report, whose own pages it knows itself, or on a page of a volume."""
    if bound:
        return [
            {"at": f"place {now.place.place}", "says": f"{now.place.place} {now.place.name}", "page": ""}
            for now in bound
        ]
    where = {at: in_volume(file, page) for file, pages in begins.items() for at, page in pages.items()}
    return [
        {"at": "", "says": f"{now.place.place} {now.place.name}", "page": where[now.place.place]}
        for now in record.places
    ]


def _places_say(record: Record, *, bound: bool) -> str:
    every, full = len(record.places), len(chosen(record))
    if bound:
        return f"The day of each of the {every:,} places, minute by minute, in the roster's order."
    volume, said = volume_name(3), in_volume(volume_name(3), 41)
    return (
        f"The day of each of the {every:,} places is printed in volumes, with the answers first: {said} is page 41 of "
        f"{volume}. {full:,} are printed minute by minute: those with danger or voting stopped, opened late, or not "
        "reported open, and those asked for by name; the others in short, and their every entry stands in "
        f"csv/entries.csv and in the workbook's sheet “Every entry”. All places in one table: {GLANCE}."
    )
