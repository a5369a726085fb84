"""A made-up county of any number of places hangs together."""

import pytest

from county.rehearsal.roster import MOST_PLACES, made_up_county


@pytest.mark.parametrize("places", [1, 2, 7, 48, 2_000])
def test_it_has_so_many_places_and_everything_hangs_together(places: int) -> None:
    county = made_up_county(places)
    assert len(county.place_by_id) == places
    assert {precinct.place for precinct in county.precincts} == county.place_by_id.keys()
    assert all(device.place in county.place_by_id for device in county.devices)
    assert len(county.device_by_id) == len(county.devices)
    assert {seal.device for seal in county.seals} <= county.device_by_id.keys()
    assert {rover.zone for rover in county.rovers} <= {place.zone for place in county.places}
    for place in county.place_by_id:
        types = [device.type for device in county.devices_at[place]]
        assert types.count("scanner") in (1, 2)
        assert types.count("bmd") == 1


def test_the_same_number_is_the_same_county() -> None:
    assert made_up_county(50) == made_up_county(50)
    assert made_up_county(50) != made_up_county(50, seed=2)


def test_a_larger_county_holds_the_smaller_ones_devices() -> None:
    assert made_up_county(10).devices == made_up_county(20).devices[: len(made_up_county(10).devices)]


def test_telephones_are_the_invented_ones() -> None:
    county = made_up_county(300)
    phones = [place.phone for place in county.places] + [rover.phone for rover in county.rovers]
    assert all(phone.startswith("555-01") and len(phone) == 8 for phone in phones)


@pytest.mark.parametrize("places", [0, -1, MOST_PLACES + 1])
def test_no_county_has_no_places_or_too_many(places: int) -> None:
    with pytest.raises(ValueError, match="1 to 20,000 places"):
        made_up_county(places)
