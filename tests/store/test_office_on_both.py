"""The office as the doors use it, from setting up to following and restoring, on either database."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from county import desk, staffing, upkeep
from county.domain.people import Person, Role
from county.domain.receipts import Outcome
from county.domain.senders import Sender
from county.errors import BadPlan, BadSetting
from county.following import Following
from county.setting_up import set_up
from county.settings import Settings, settings_from
from county.wiring import Office, open_office
from tests.an_office import ROSTER, at
from tests.desk.reports import a_refusal, a_step


@pytest.fixture
def settings(empty_url: str, tmp_path: Path) -> Settings:
    told = {"DATA": str(tmp_path / "data"), "DATABASE_URL": empty_url, "NOW": "2026-11-03T06:03:00-06:00x0"}
    return settings_from({f"POLLRISE_{name}": value for name, value in told.items()})


@pytest.fixture
def office(settings: Settings) -> Iterator[Office]:
    set_up(settings)
    office = open_office(settings)
    yield office
    office.engine.dispose()


def test_a_morning_goes_its_way(office: Office, tmp_path: Path) -> None:
    upkeep.load_roster(office, ROSTER)
    key = upkeep.issue_key(office, Sender.at_place("P014"))
    assert desk.find_sender(office, key) == Sender.at_place("P014")
    following = Following(office)
    receipts = desk.keep(office, [a_step("open", "05:59"), a_refusal(), a_step("open", "05:58")])
    assert [receipt.outcome for receipt in receipts] == [Outcome.KEPT, Outcome.REFUSED, Outcome.CONFLICT]
    following.catch_up()
    assert desk.raise_by_clock(office, following.picture, at("06:03")) > 0
    assert "P015" in following.catch_up()
    assert following.picture.places["P014"].day.opened_at == at("05:59")
    staffing.add_person(office, Person("Ann", Role.DESK))
    raw = {"key": "a-1", "action": "acknowledge"}
    assert desk.act(office, following.picture, "P015.late-opening", raw, "board:Ann", "Ann", "board").seq
    assert [aside.reason for aside in desk.set_aside_list(office)] == ["refused", "conflict"]
    bad, last, _ = upkeep.verify(office)
    assert (bad, last) == (None, desk.last_seq(office))
    assert upkeep.backup(office, tmp_path / "copy.db") == (last, None)


def test_setting_up_twice_makes_nothing_new(settings: Settings) -> None:
    first, second = set_up(settings), set_up(settings)
    assert first.key.startswith("pr_")
    assert (second.made, second.key) == ((), "")
    assert set(second.stood) == set(first.made)


def test_an_office_that_was_never_set_up_is_not_opened_and_not_made(settings: Settings) -> None:
    with pytest.raises(BadPlan, match="python -m county init"):
        open_office(settings)
    assert not settings.data.exists()


@pytest.mark.parametrize("empty_url", ["sqlite"], indirect=True)
def test_an_office_without_its_data_folder_is_not_opened_on_sqlite(settings: Settings, tmp_path: Path) -> None:
    set_up(settings)
    moved = replace(settings, plan=settings.plan.rename(tmp_path / "plan.toml"), data=tmp_path / "elsewhere")
    with pytest.raises(BadSetting, match="POLLRISE_DATA: there is no folder"):
        open_office(moved)
