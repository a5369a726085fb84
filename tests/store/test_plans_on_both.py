"""The plan's versions and readiness on either database."""

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from county import desk, getting_ready, plans, staffing, upkeep
from county.domain.intake import Hand
from county.errors import PollriseError, Refused
from county.following import Following
from county.setting_up import set_up
from county.settings import settings_from
from county.signing_in import BY_PASSWORD, begin_session
from county.wiring import Office, open_office, plan_in_force
from tests.an_office import PLAN_TEXT, ROSTER
from tests.desk.reports import a_step


@pytest.fixture
def office(empty_url: str, tmp_path: Path) -> Office:
    told = {"DATA": str(tmp_path / "data"), "DATABASE_URL": empty_url, "NOW": "2026-11-03T06:03:00-06:00x0"}
    settings = settings_from({f"POLLRISE_{name}": value for name, value in told.items()})
    set_up(settings)
    settings.plan.write_text(PLAN_TEXT, encoding="utf-8")
    return open_office(settings)


def save(office: Office, text: str, based_on: int) -> int:
    hand = Hand("desk:Ann", "Ann", "board", office.clock.now())
    return plans.save(office, text, hand, based_on=based_on)[-1].number


def test_a_version_is_in_force_and_what_is_still_to_do_is_found(office: Office) -> None:
    upkeep.load_roster(office, ROSTER)
    assert plans.take_up_file(office)
    desk.keep(office, [a_step("open", "05:59")])
    (account,) = staffing.accounts(office)
    begin_session(office, account, BY_PASSWORD)
    earlier = PLAN_TEXT.replace('due = "-15m"', 'due = "-20m"')
    assert save(office, earlier, 1) == 2
    assert plan_in_force(office.settings) != office.plan
    following = Following(office)
    following.catch_up()
    assert following.picture.plan == plan_in_force(office.settings)
    assert following.picture.places["P014"].day.opened_at is not None
    facts = getting_ready.facts(office, office.clock.now())
    assert [(each.name, each.signed_in_at is not None) for each in facts.colleagues] == [("desk", True)]
    assert facts.changed_at == office.clock.now()
    assert not facts.made_up
    office.engine.dispose()


def test_of_two_people_who_save_at_the_same_moment_one_is_told_of_the_other(office: Office) -> None:
    texts = [PLAN_TEXT.replace('due = "-15m"', f'due = "-{minutes}m"') for minutes in (16, 17, 18, 19)]

    def tried(text: str) -> int | str:
        try:
            return save(office, text, 0)
        except Refused as refused:
            return str(refused)

    with ThreadPoolExecutor(len(texts)) as pool:
        outcomes = list(pool.map(tried, texts))
    made = [outcome for outcome in outcomes if isinstance(outcome, int)]
    assert made == [2]
    assert all("meanwhile" in str(outcome) for outcome in outcomes if outcome != 2)
    assert len(plans.standing(office).versions) == 2
    assert upkeep.verify(office)[0] is None
    office.engine.dispose()


def test_more_versions_than_are_read_at_once_are_all_there(office: Office, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("county.store.plans._AT_ONCE", 3)
    for minutes in range(6):
        save(office, PLAN_TEXT.replace('due = "-15m"', f'due = "-{20 + minutes}m"'), minutes + 1 if minutes else 0)
    assert [version.number for version in plans.standing(office).versions] == [1, 2, 3, 4, 5, 6, 7]
    with pytest.raises(PollriseError):
        save(office, PLAN_TEXT, 6)
    office.engine.dispose()
