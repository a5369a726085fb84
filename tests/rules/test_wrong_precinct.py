"""wrong-precinct: a device shows a precinct that does not vote here, or leaves out one that does."""

import pytest

from county.domain.effects import Effect
from county.domain.entries import Entry
from tests.builders import a_roster, a_step, before
from tests.looking import found_by

RULE = "wrong-precinct"


def shows(*precincts: str, place: str = "P014", device: str = "SC-0141") -> Entry:
    return a_step("setup-confirmed", before(22), place=place, device=device, shown_precincts=precincts)


@pytest.mark.parametrize(
    "precincts",
    [("14A", "14B"), ("14B", "14A"), ("Mill Creek North", "14b"), ("mill creek NORTH", "Mill Creek South")],
)
def test_the_places_own_precincts_by_id_or_name_are_right(precincts: tuple[str, ...]) -> None:
    assert found_by(RULE, shows(*precincts)) == []


@pytest.mark.parametrize(
    ("precincts", "says"),
    [
        (("14A",), "SC-0141 does not show 14B"),
        (("14A", "14B", "15"), "SC-0141 shows 15"),
        (("15",), "SC-0141 shows 15 and does not show 14A, 14B"),
        (("14A", "14C"), "SC-0141 shows 14C and does not show 14B"),
    ],
)
def test_another_or_one_left_out_raises_it(precincts: tuple[str, ...], says: str) -> None:
    (finding,) = found_by(RULE, shows(*precincts))
    assert finding.says == says
    assert (finding.expected, finding.found) == ("14A, 14B", ", ".join(precincts))
    assert (finding.effect, finding.device) == (Effect.STOPPED, "SC-0141")


def test_a_vote_centre_serves_all_so_only_an_unknown_one_is_wrong() -> None:
    assert found_by(RULE, shows("15", place="P016", device="SC-0161"), place="P016") == []
    (finding,) = found_by(RULE, shows("15", "99", place="P016", device="SC-0161"), place="P016")
    assert finding.says == "SC-0161 shows 99"


def test_where_no_precinct_is_known_nothing_can_be_compared() -> None:
    assert found_by(RULE, shows("14A"), roster=a_roster(precincts=())) == []


def test_nothing_shown_raises_nothing() -> None:
    assert found_by(RULE, a_step("setup-confirmed", device="SC-0141")) == []
