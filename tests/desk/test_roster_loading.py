"""Loading a county's own files: a check and a load always agree, twice is once, and nothing is loaded unseen."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, event, given, settings
from hypothesis import strategies as st

from county import desk, roster_loading, upkeep
from county.domain.roster import Place, Roster
from county.domain.roster_digest import roster_digest
from county.errors import BadRoster
from county.roster_files.column_maps import BadMaps
from county.roster_files.files import RosterFile
from county.roster_loading import Looked, Unconfirmed
from county.wiring import Office
from tests.an_office import ROSTER, an_office
from tests.desk.reports import a_step

LIST = "Precinct,Polling Place,Address\n1,Town Hall,1 Main St\n2,Grange,20 Mill Rd\n"
DOUBTFUL = "Precinct,Spot,Address\n1,Town Hall,1 Main St\n2,Grange,20 Mill Rd\n"


def file(said: str, name: str = "list.csv") -> RosterFile:
    return RosterFile.held(name, said.encode())


@contextmanager
def empty_office(folder: Path) -> Iterator[Office]:
    """An office without a roster, its plan where the settings say."""
    with an_office(folder) as office:
        yield replace(office, settings=replace(office.settings, plan=folder / "plan.toml"))


@pytest.fixture
def fresh(tmp_path: Path) -> Iterator[Office]:
    with empty_office(tmp_path) as office:
        yield office


def test_a_check_writes_nothing_and_a_load_does_what_it_said(fresh: Office) -> None:
    checked = roster_loading.check(fresh, [file(LIST)])
    assert (desk.roster(fresh), desk.last_seq(fresh)) == (Roster(), 0)
    assert not roster_loading.maps_file(fresh).exists()
    assert roster_loading.load(fresh, [file(LIST)], by="Ann") == checked
    assert checked.loading is not None
    assert desk.roster(fresh) == checked.loading.after
    [entry] = desk.ledger_pages(fresh)
    assert (entry["by"], entry["added"]) == ("Ann", 4)


def test_loading_twice_changes_nothing(fresh: Office) -> None:
    roster_loading.load(fresh, [file(LIST)])
    again = roster_loading.load(fresh, [file(LIST)])
    assert again.loading is not None
    assert again.loading.changes == ()
    assert desk.last_seq(fresh) == 1


def test_a_doubtful_guess_is_not_used_before_it_is_confirmed(fresh: Office) -> None:
    with pytest.raises(Unconfirmed) as refused:
        roster_loading.load(fresh, [file(DOUBTFUL)])
    assert [str(problem) for problem in refused.value.problems] == [
        "list.csv: 'Spot' is taken for the name by its values; its header does not say so"
    ]
    assert (desk.roster(fresh), roster_loading.maps_file(fresh).exists()) == (Roster(), False)
    roster_loading.load(fresh, [file(DOUBTFUL)], confirmed=True)
    assert len(desk.roster(fresh).places) == 2


def test_a_confirmed_map_is_found_again_by_the_headers_whatever_the_file_is_called(fresh: Office) -> None:
    roster_loading.load(fresh, [file(DOUBTFUL)], confirmed=True)
    moved = "Address,Precinct,Spot\n1 Main St,1,Town Hall\n20 Mill Rd,2,Grange\n5 Elm St,3,Library\n"
    looked = roster_loading.load(fresh, [file(moved, "next year.csv")])
    assert [(each.confirmed, each.doubts) for each in looked.guesses] == [(True, ())]
    assert [place.name for place in desk.roster(fresh).places] == ["Town Hall", "Grange", "Library"]
    kept = roster_loading.maps_file(fresh).read_text(encoding="utf-8")
    assert '[columns."list"]\nheaders = ["Precinct", "Spot", "Address"]\nname = "Spot"\n' in kept


def test_a_map_changed_by_hand_is_used(fresh: Office) -> None:
    roster_loading.load(fresh, [file(DOUBTFUL)], confirmed=True)
    maps = roster_loading.maps_file(fresh)
    maps.write_text(maps.read_text(encoding="utf-8").replace('precinct = "Precinct"\n', ""), encoding="utf-8")
    assert roster_loading.check(fresh, [file(DOUBTFUL)]).given.precincts == ()


@pytest.mark.parametrize(
    ("said", "says"),
    [
        ("[columns.list]\nname = 'x'\n", "headers must be a list"),
        ("[columns.list]\nheaders = ['x']\ncolour = 'x'\n", 'unknown field "colour"'),
        ("[columns.list]\nheaders = ['x']\nname = 7\n", "name must be a header"),
        ("columns = 7\n", "columns must be tables"),
        ("[columns", "cannot be read"),
    ],
)
def test_a_columns_file_with_a_fault_is_refused_by_name(fresh: Office, said: str, says: str) -> None:
    roster_loading.maps_file(fresh).write_text(said)
    with pytest.raises(BadMaps, match=rf"columns\.toml: .*{says}"):
        roster_loading.check(fresh, [file(LIST)])


def test_what_a_person_tells_wins_over_any_guess(fresh: Office) -> None:
    told = {"list.csv": {"name": "Address", "address": ""}}
    looked = roster_loading.load(fresh, [file(LIST)], told)
    assert [place.name for place in looked.given.places] == ["1 Main St", "20 Mill Rd"]
    assert looked.guesses[0].confirmed
    assert roster_loading.check(fresh, [file(LIST)]).given == looked.given


def test_what_is_told_of_a_column_that_is_not_there_is_refused(fresh: Office) -> None:
    looked = roster_loading.check(fresh, [file(LIST)], {"": {"name": "Place"}})
    assert [str(problem) for problem in looked.wrong] == [
        "list.csv: has no column 'Place'; its columns are Precinct, Polling Place, Address"
    ]


def test_what_is_wrong_stops_the_load_and_is_told_worst_first(fresh: Office) -> None:
    bad = file("place,name,colour,opens\nP1,Hall,,\nP2,Grange,,25:00\n", "places.csv")
    looked = roster_loading.check(fresh, [bad])
    assert [problem.warning for problem in looked.problems] == [False, True]
    assert looked.loading is None
    with pytest.raises(BadRoster, match="row 3, column opens"):
        roster_loading.load(fresh, [bad])
    assert desk.roster(fresh) == Roster()


def test_a_place_that_has_reports_stays_and_keeps_its_id(tmp_path: Path) -> None:
    with empty_office(tmp_path) as office:
        upkeep.load_roster(office, ROSTER)
        desk.keep(office, [a_step("open", "05:29")])
        said = "Precinct,Polling Place,Address\n15,Grange Hall,20 Mill Rd\n"
        devices = file("device,place,type\nSC-0151,P015,scanner\n", "devices.csv")
        looked = roster_loading.load(office, [file(said), devices])
        assert looked.loading is not None
        assert looked.loading.stay == ("P014",)
        assert {place.place for place in desk.roster(office).places} == {"P014", "P015"}


def test_a_roster_that_somebody_changed_meanwhile_is_not_overwritten(
    fresh: Office, monkeypatch: pytest.MonkeyPatch
) -> None:
    read = roster_loading._read

    def and_somebody_else_loads(*given: object) -> object:
        reading = read(*given)  # type: ignore[arg-type]
        upkeep.load_roster(fresh, Roster(places=(Place("P9", "Library"),)))
        return reading

    monkeypatch.setattr(roster_loading, "_read", and_somebody_else_loads)
    with pytest.raises(BadRoster, match="somebody else has just changed the roster"):
        roster_loading.load(fresh, [file(LIST)])
    assert [place.name for place in desk.roster(fresh).places] == ["Library"]


CELL = st.sampled_from(
    ["", "1", "2", "7", "Town Hall", "Grange", "1 Main St", "9 Elm St", "7-8", "41.9", "TOTAL", '"', "é"]
)
HEADERS = st.lists(
    st.sampled_from(
        ["Precinct", "Polling Place", "Address", "Hours", "Lat", "Long", "Site ID", "Registered", "X", "place", "name"]
    ),
    min_size=1,
    max_size=6,
    unique=True,
)


@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(headers=HEADERS, rows=st.lists(st.lists(CELL, max_size=6), max_size=5), confirmed=st.booleans())
def test_a_check_and_a_load_always_agree_and_twice_is_once(
    fresh: Office, headers: list[str], rows: list[list[str]], confirmed: bool
) -> None:
    # whatever the loads before have left standing, and whichever maps they have left confirmed
    said = "\n".join(",".join(row) for row in [headers, *rows])
    before, seq = desk.roster(fresh), desk.last_seq(fresh)
    checked = roster_loading.check(fresh, [file(said)])
    assert (desk.roster(fresh), desk.last_seq(fresh)) == (before, seq)
    loaded = _loaded(fresh, said, confirmed=confirmed)
    event("refused" if checked.wrong else "doubtful" if checked.doubts else "loads")
    if checked.wrong or (checked.doubts and not confirmed):
        assert loaded is None
        assert (desk.roster(fresh), desk.last_seq(fresh)) == (before, seq)
        return
    assert loaded == checked
    assert checked.loading is not None
    assert roster_digest(desk.roster(fresh)) == roster_digest(checked.loading.after)
    assert desk.last_seq(fresh) == seq + bool(checked.loading.changes)
    again = _loaded(fresh, said, confirmed=confirmed)
    assert again is not None
    assert again.loading is not None
    assert again.loading.changes == ()


def _loaded(office: Office, said: str, *, confirmed: bool) -> Looked | None:
    try:
        return roster_loading.load(office, [file(said)], confirmed=confirmed)
    except BadRoster:
        return None
