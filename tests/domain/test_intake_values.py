"""Numbers, texts, times and devices as they arrive at any door: read the same, or refused by the field's name."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from county.domain.entries import Entry, Stamp
from county.domain.intake import content, take
from county.domain.moments import write_moment
from county.errors import Refused
from tests.builders import OPENS, a_hand, a_plan, a_roster, after, raw


def taken(report: object, received_at: datetime = OPENS, **hand: str) -> Entry:
    return take(report, a_hand(received_at, **hand), a_roster(), a_plan())


def fields(report: object, received_at: datetime = OPENS) -> list[str]:
    with pytest.raises(Refused) as refused:
        taken(report, received_at)
    return [problem.field for problem in refused.value.problems]


def noted_at(told: object, received_at: datetime = OPENS) -> Entry:
    return taken(raw("note", note="x", happened_at=told), received_at)


@pytest.mark.parametrize("number", [0, 1, 999_999_999, "0", "007", " 12 ", "999999999"])
def test_a_whole_number_is_read(number: object) -> None:
    assert taken(raw("count", in_line=number)).number("in_line") == int(str(number))


@pytest.mark.parametrize(
    "number",
    [
        *(-1, 1_000_000_000, 10**30, 3.0, 3.5, float("nan"), float("inf"), True, False, [], {}),
        *("-1", "+1", "3.0", "1e3", "1,000", "0x10", "1 000", "1000000000", "٣", "²", "twelve", "1\x00"),
    ],
)
def test_any_other_number_is_refused_by_its_field(number: object) -> None:
    assert fields(raw("count", in_line=number)) == ["in_line"]


@pytest.mark.parametrize(
    ("text", "is_true"),
    [
        *((said, True) for said in (True, "true", "TRUE", "yes", "1")),
        *((said, False) for said in (False, "false", "No", " 0 ")),
    ],
)
def test_yes_and_no_are_read_as_files_write_them(text: object, is_true: bool) -> None:
    report = raw("step", step="seals-checked", device="SC-0141", seal_intact=text)
    assert taken(report).fields["seal_intact"] is is_true


@pytest.mark.parametrize("text", ["y", "ja", "2", 1, 0, [True]])
def test_what_is_neither_yes_nor_no_is_refused(text: object) -> None:
    assert fields(raw("step", step="seals-checked", device="SC-0141", seal_intact=text)) == ["seal_intact"]


@pytest.mark.parametrize("control", ["\x00", "\x07", "\x1b", "\x7f", "\ud800"])
def test_a_character_that_is_no_text_is_refused_wherever_it_stands(control: str) -> None:
    assert fields(raw("note", note=f"a{control}b")) == ["note"]
    assert fields(raw("step", step="open", shown_date=f"a{control}b")) == ["shown_date"]
    assert fields(raw("step", step="open", shown_precincts=["14A", f"a{control}b"])) == ["shown_precincts"]


@given(st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs"]), max_size=2_000).filter(str.strip))
@example("line one\nline two\tand a tab")
@example("<script>alert(1)</script>")
@example("=1+1")
@example("\u202eright to left")
def test_a_note_is_kept_as_it_was_written_but_for_space_around_it(note: str) -> None:
    assert taken(raw("note", note=note)).text("note") == note.strip()


def test_a_note_may_be_two_thousand_characters_and_no_more() -> None:
    assert len(taken(raw("note", note="é" * 2_000)).text("note")) == 2_000
    assert fields(raw("note", note="é" * 2_001)) == ["note"]


def test_a_word_may_be_two_hundred_characters_and_no_more() -> None:
    assert taken(raw("step", step="open", shown_date="x" * 200)).text("shown_date") == "x" * 200
    assert fields(raw("step", step="open", shown_date="x" * 201)) == ["shown_date"]


def test_a_number_may_stand_for_a_word() -> None:
    report = raw("step", step="seals-checked", device="SC-0141", seal_number=100234)
    assert taken(report).text("seal_number") == "100234"


def test_a_list_of_precincts_is_the_same_as_a_text_of_them() -> None:
    as_list = taken(raw("step", step="open", shown_precincts=["14A", "14B", 15]))
    for text in ("14A;14B;15", "14A, 14B, 15", "14A | 14B|15 |"):
        assert taken(raw("step", step="open", shown_precincts=text)).fields == as_list.fields


@pytest.mark.parametrize("precincts", [5, {"14A": 1}, [["14A"]], [None], ["14A"] * 501])
def test_what_is_no_list_of_words_is_refused(precincts: object) -> None:
    assert fields(raw("step", step="open", shown_precincts=precincts)) == ["shown_precincts"]


# devices


@pytest.mark.parametrize("name", ["seal_position", "seal_number", "seal_intact", "protective_counter"])
def test_evidence_of_a_device_needs_its_device(name: str) -> None:
    assert fields(raw("step", step="powered", **{name: 1 if name != "seal_intact" else True})) == ["device"]


def test_the_device_may_be_left_out_where_the_place_has_only_one_of_its_type() -> None:
    entry = taken(raw("step", step="zero-report", place="P015", protective_counter=100))
    assert entry.device == "SC-0151"


def test_the_device_is_not_guessed_where_there_are_two() -> None:
    assert fields(raw("step", step="zero-report", protective_counter=100)) == ["device"]
    assert taken(raw("step", step="zero-report", public_counter=0)).device == ""


@pytest.mark.parametrize("kind", ["step", "count", "exception", "interruption", "note"])
def test_a_device_of_another_place_or_of_none_is_refused(kind: str) -> None:
    needed: dict[str, object] = {"step": "open"} if kind == "step" else {}
    needed |= {"in_line": 1} if kind == "count" else {}
    needed |= {"exception": "other"} if kind == "exception" else {}
    needed |= {"effect": "stopped"} if kind == "interruption" else {}
    needed |= {"note": "x"} if kind == "note" else {}
    assert fields(raw(kind, device="SC-0151", **needed)) == ["device"]
    assert fields(raw(kind, device="SC-9999", **needed)) == ["device"]
    assert taken(raw(kind, device="SC-0141", **needed)).device == "SC-0141"


def test_a_step_is_done_on_a_device_of_its_type() -> None:
    assert fields(raw("step", step="zero-report", device="BM-0141")) == ["device"]
    assert taken(raw("step", step="seals-checked", device="BM-0141")).device == "BM-0141"


# times


@pytest.mark.parametrize(
    ("told", "happened_at"),
    [
        ("2026-11-03T05:41:00-06:00", datetime(2026, 11, 3, 11, 41, tzinfo=UTC)),
        ("2026-11-03T11:41:00Z", datetime(2026, 11, 3, 11, 41, tzinfo=UTC)),
        ("2026-11-03t11:41:00z", datetime(2026, 11, 3, 11, 41, tzinfo=UTC)),
        ("2026-11-03 11:41:00+00:00", datetime(2026, 11, 3, 11, 41, tzinfo=UTC)),
        ("2026-11-04T01:41:00+14:00", datetime(2026, 11, 3, 11, 41, tzinfo=UTC)),
        ("2026-11-02T23:41:00-12:00", datetime(2026, 11, 3, 11, 41, tzinfo=UTC)),
        ("2026-11-03T11:41:00.5Z", datetime(2026, 11, 3, 11, 41, 0, 500_000, tzinfo=UTC)),
        ("2026-11-03T11:41:00.123456789Z", datetime(2026, 11, 3, 11, 41, 0, 123_456, tzinfo=UTC)),
        (" 2026-11-03T11:41:00Z ", datetime(2026, 11, 3, 11, 41, tzinfo=UTC)),
    ],
)
def test_a_time_with_its_offset_is_told(told: str, happened_at: datetime) -> None:
    entry = noted_at(told)
    assert (entry.happened_at, entry.stamp, entry.told_at) == (happened_at, Stamp.TOLD, "")


def test_without_a_time_it_happened_when_it_was_received() -> None:
    entry = noted_at(None)
    assert (entry.happened_at, entry.stamp, entry.told_at) == (OPENS, Stamp.RECEIVED, "")


@pytest.mark.parametrize("told", ["2026-11-03T05:41:00", "2026-11-03 05:41:00.25", "9999-12-31T23:59:59"])
def test_a_time_without_offset_is_kept_as_told_and_not_used(told: str) -> None:
    entry = noted_at(told)
    assert (entry.happened_at, entry.stamp, entry.told_at) == (OPENS, Stamp.RECEIVED, told)


@pytest.mark.parametrize(("ahead", "stamp"), [(0, Stamp.TOLD), (120, Stamp.TOLD), (121, Stamp.CLOCK_AHEAD)])
def test_a_time_more_than_two_minutes_ahead_is_a_clock_that_is_ahead(ahead: int, stamp: Stamp) -> None:
    told = OPENS + timedelta(seconds=ahead)
    entry = noted_at(write_moment(told))
    assert entry.stamp is stamp
    assert entry.happened_at == (told if stamp is Stamp.TOLD else OPENS)
    assert entry.told_at == ("" if stamp is Stamp.TOLD else write_moment(told))


@pytest.mark.parametrize("told", ["9999-12-31T23:59:59Z", "9999-12-31T23:59:59+14:00", "2027-11-03T06:00:00-06:00"])
def test_a_time_in_a_far_future_is_a_clock_that_is_ahead(told: str) -> None:
    entry = noted_at(told)
    assert (entry.happened_at, entry.stamp) == (OPENS, Stamp.CLOCK_AHEAD)
    assert entry.told_at


@pytest.mark.parametrize("told", ["0001-01-02T00:00:00Z", "1970-01-01T00:00:00Z", "2025-11-03T06:00:00-06:00"])
def test_a_time_long_before_the_election_is_a_clock_that_is_behind(told: str) -> None:
    entry = noted_at(told)
    in_utc = write_moment(datetime.fromisoformat(told))
    assert (entry.happened_at, entry.stamp, entry.told_at) == (OPENS, Stamp.CLOCK_BEHIND, in_utc)


def test_sixty_days_before_the_election_are_believed() -> None:
    assert noted_at("2026-09-04T00:00:00-05:00").stamp is Stamp.TOLD
    assert noted_at("2026-09-03T23:59:59-05:00").stamp is Stamp.CLOCK_BEHIND


@pytest.mark.parametrize(
    "told",
    [
        *(
            "2026-11-03",
            "06:00",
            "noon",
            "2026-11-03T05:41-06:00",
            "2026-11-03T05:41:00-0600",
            "2026-11-03T05:41:00 CST",
        ),
        *("2026-02-29T06:00:00Z", "2026-13-01T06:00:00Z", "2026-11-31T06:00:00Z", "2026-11-03T24:00:00Z"),
        *("2026-11-03T06:60:00Z", "2026-11-03T06:00:60Z", "2026-11-03T06:00:00+24:00", "0001-01-01T00:00:00+14:00"),
        *(
            "9999-12-31T23:59:59-14:00",
            "20261103T054100Z",
            "٢٠٢٦-11-03T06:00:00Z",
            "2026-11-03T06:00:00Z\x00",
            "x" * 300,
        ),
        *(1_762_170_000, 1.5, True, ["2026-11-03T05:41:00-06:00"], {}),
    ],
)
def test_what_is_no_time_is_refused_by_name(told: object) -> None:
    assert fields(raw("note", note="x", happened_at=told)) == ["happened_at"]


def test_a_leap_day_is_a_day_in_a_leap_year() -> None:
    in_2028 = datetime(2028, 2, 29, 13, tzinfo=UTC)
    assert noted_at("2028-02-29T06:00:00-06:00", in_2028).happened_at == datetime(2028, 2, 29, 12, tzinfo=UTC)


def test_since_needs_its_offset() -> None:
    assert fields(raw("exception", exception="other", since="2026-11-03T05:41:00")) == ["since"]
    assert fields(raw("exception", exception="other", since="noon")) == ["since"]


# content


def test_json_and_csv_text_have_the_same_content() -> None:
    as_json = raw("step", step="zero-report", device="SC-0141", public_counter=0, copies=3, seal_intact=True)
    as_text = {name: str(value).lower() if isinstance(value, bool) else str(value) for name, value in as_json.items()}
    assert content(taken(as_json)) == content(taken(as_text | {"signers": "", "note": " "}))


def test_a_repeat_sent_later_without_a_time_has_the_same_content() -> None:
    report = raw("count", in_line=4)
    assert content(taken(report, after(0))) == content(taken(report, after(90)))


@pytest.mark.parametrize("told", ["2026-11-03T06:30:00-06:00", "2026-11-03T06:30:00", "2025-11-03T06:30:00-06:00"])
def test_a_repeat_has_the_same_content_however_its_time_was_taken(told: str) -> None:
    # half an hour ahead when first sent, past when it is sent again
    report = raw("count", in_line=4, happened_at=told)
    assert content(taken(report, after(0))) == content(taken(report, after(90)))


def test_the_same_moment_written_with_another_offset_has_the_same_content() -> None:
    first = raw("count", in_line=4, happened_at="2026-11-03T05:41:00-06:00")
    assert content(taken(first)) == content(taken(first | {"happened_at": "2026-11-03T11:41:00Z"}))


def test_a_precinct_in_its_places_stead_has_the_same_content() -> None:
    assert content(taken(raw("count", in_line=4))) == content(taken(raw("count", in_line=4, place="14A")))


@pytest.mark.parametrize(
    "other",
    [
        raw("count", in_line=5),
        raw("count", in_line=4, spoiled=0),
        raw("count", in_line=4, place="P015"),
        raw("step", step="open", in_line=4),
        raw("count", in_line=4, happened_at="2026-11-03T05:41:00-06:00"),
    ],
    ids=["number", "field", "place", "kind", "time"],
)
def test_anything_else_said_is_other_content(other: dict[str, object]) -> None:
    assert content(taken(raw("count", in_line=4))) != content(taken(other))


def test_who_brought_it_and_through_which_door_is_no_content() -> None:
    report = raw("count", in_line=4)
    by_place = take(report, a_hand(after(5), place_only="P014", door="text"), a_roster(), a_plan())
    assert content(by_place) == content(taken(report))


@given(
    st.recursive(
        st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20) | st.binary(max_size=5),
        lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=12), inner, max_size=5),
        max_leaves=12,
    )
)
def test_whatever_is_sent_is_taken_or_refused_and_never_breaks(report: object) -> None:
    assert outcome(report)


@given(
    st.dictionaries(
        st.sampled_from(["key", "kind", "place", "happened_at", "step", "device", "effect", "since", "ends", "note"]),
        st.sampled_from(["P014", "step", "open", "interruption", "SC-0141", "stopped", "true", "k", "0001-01-01"])
        | st.integers(-1, 1)
        | st.text(max_size=4),
    )
)
def test_nearly_good_reports_are_taken_or_refused_and_never_break(report: dict[str, object]) -> None:
    assert outcome(report)


def outcome(report: object) -> str | tuple[object, ...]:
    """The content that was taken, or the problems for which it was refused."""
    try:
        return content(taken(report))
    except Refused as refused:
        return refused.problems
