"""Every page over a whole rough day, with patterns, late openings and everything else that such a day brings."""

from collections.abc import Iterator
from datetime import timedelta

import pytest

from county.domain.pattern_facts import pattern_facts
from county.domain.picture import Picture
from county.pack.record import Choice, Kept, make_record
from county.pack.subjects import SUBJECTS
from county.rehearsal.day import made_up_day
from county.rehearsal.luck import WHOLE_DAY
from dashboard.feed import Feed
from dashboard.review.parts import PARTS
from tests.builders import CLOSES
from tests.dashboard.a_board import a_feed
from tests.dashboard.test_every_page import FILES
from tests.dashboard.test_review_page import a_page, sentence
from tests.rehearsal.days import entries_of, sample_county, sample_plan

NIGHT = CLOSES + timedelta(hours=5)


@pytest.fixture(scope="module")
def picture() -> Picture:
    """The sample county's day, with what the clock wrote down of patterns."""
    day = entries_of(made_up_day(sample_county(), sample_plan(), "rough", 1, WHOLE_DAY))
    picture = Picture.of(sample_county(), sample_plan(), day)
    picture.add(pattern_facts(picture, NIGHT, "real"))
    assert any(case.is_pattern for case in picture.cases())
    return picture


@pytest.fixture(scope="module")
def feed(picture: Picture, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Feed]:
    entries = [entry for state in picture.places.values() for entry in state.day.told]
    folder = tmp_path_factory.mktemp("office")
    with a_feed(folder, entries, now=NIGHT, plan=sample_plan(), roster=sample_county()) as feed:
        yield feed


@pytest.mark.parametrize("page", [file.stem for file in FILES])
def test_every_page_begins_with_its_sentence(feed: Feed, page: str) -> None:
    assert sentence(a_page(page))


@pytest.mark.parametrize("part", PARTS)
def test_every_part_of_the_review_begins_with_its_sentence(feed: Feed, part: str) -> None:
    assert sentence(a_page(part=part))


@pytest.mark.parametrize("subject", SUBJECTS)
def test_every_subject_of_the_pack_is_a_table(picture: Picture, subject: object) -> None:
    entries = [entry for state in picture.places.values() for entry in state.day.told]
    kept = Kept(sample_plan(), "", sample_county(), entries, (), ("0" * 64,) * len(entries))
    assert callable(subject)
    assert subject(make_record(kept, Choice())).columns
