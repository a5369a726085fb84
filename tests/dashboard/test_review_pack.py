"""The pack from the board: made by a process of its own, once for the same record, and handed out as one file."""

import time
import zipfile
from pathlib import Path

import pytest

from county import desk, upkeep
from county.domain.people import Role
from county.pack import verify
from county.setting_up import set_up
from county.settings import Settings, settings_from
from county.wiring import open_office
from dashboard.review_pack.making import Packs, Wanted
from tests.an_office import PLAN_TEXT, ROSTER
from tests.builders import a_full_opening, after
from tests.dashboard.a_board import a_feed
from tests.dashboard.signed_in import looked_at_by
from tests.dashboard.test_review_page import a_page, html
from tests.desk.reports import a_step

PATIENCE = 60.0


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    """An office with a roster and one report."""
    settings = settings_from({"POLLRISE_DATA": str(tmp_path / "data")})
    set_up(settings)
    settings.plan.write_text(PLAN_TEXT)
    office = open_office(settings)
    upkeep.load_roster(office, ROSTER)
    desk.keep(office, [a_step("open", "06:01")])
    office.engine.dispose()
    return settings


def ended(packs: Packs, wanted: Wanted) -> None:
    """Wait until the making has ended."""
    until = time.monotonic() + PATIENCE
    stand = packs.stand(wanted)
    assert stand is not None
    while stand.process.poll() is None or not (packs.made(wanted) or stand.failed):
        assert time.monotonic() < until, stand
        time.sleep(0.05)


def test_a_pack_is_made_in_a_file_that_the_verifier_in_it_confirms(settings: Settings, tmp_path: Path) -> None:
    packs, wanted = Packs(settings), Wanted(2)
    assert (packs.made(wanted), packs.stand(wanted)) == (None, None)
    packs.begin(wanted)
    ended(packs, wanted)
    file = packs.made(wanted)
    assert file is not None
    assert file.name == "review-pack-2-public.zip"
    with zipfile.ZipFile(file) as parts:
        parts.extractall(tmp_path / "unpacked")
    (folder,) = (tmp_path / "unpacked").iterdir()
    assert verify.main([str(folder)]) == 0


def test_a_pack_that_is_there_is_not_made_again_and_one_of_an_earlier_record_is_thrown_away(settings: Settings) -> None:
    packs = Packs(settings)
    packs.folder.mkdir()
    for seq in (1, 2):
        (packs.folder / f"review-pack-{seq}-public.zip").write_bytes(b"made before")
    packs.begin(Wanted(2))
    assert packs.stand(Wanted(2)) is None
    packs.begin(Wanted(2, names=True))
    ended(packs, Wanted(2, names=True))
    assert sorted(file.name for file in packs.folder.iterdir()) == [
        "review-pack-2-full.zip",
        "review-pack-2-public.zip",
    ]


@pytest.mark.parametrize(("role", "offered"), [(Role.LEAD, True), (Role.DESK, False), (Role.VIEWER, False)])
def test_only_a_lead_is_offered_names(role: Role, offered: bool, tmp_path: Path) -> None:
    with a_feed(tmp_path, a_full_opening(), now=after(9)) as feed, looked_at_by(feed.office, f"A {role}", role):
        page = a_page("review", part="pack")
        assert [box.key for box in page.checkbox] == ["pack-notes", *(["pack-names"] if offered else [])]
        assert [button.label for button in page.button if button.key == "pack-make"] == ["Make the pack"]
        assert "Keep this record through September 3, 2028 at least (52 U.S.C. 20701)." in " ".join(html(page))


def test_the_button_stands_above_the_cautions_which_are_last(tmp_path: Path) -> None:
    with a_feed(tmp_path, a_full_opening(), now=after(9)):
        page = a_page("review", part="pack")
        on_the_page = list(page.main)
        button = next(n for n, each in enumerate(on_the_page) if getattr(each, "key", None) == "pack-make")
        said = [n for n, each in enumerate(on_the_page) if "pr-cautions" in str(getattr(each, "value", ""))]
        assert len(said) == 1
        assert said[0] > button


def test_where_none_can_be_made_it_says_why(settings: Settings) -> None:
    settings.plan.write_text("no plan")
    packs = Packs(settings)
    packs.begin(Wanted(2, notes=False))
    ended(packs, Wanted(2, notes=False))
    stand = packs.stand(Wanted(2, notes=False))
    assert stand is not None
    assert "plan.toml" in stand.failed
    assert packs.made(Wanted(2, notes=False)) is None
