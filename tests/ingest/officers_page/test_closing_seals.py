"""Seals put on when the place is left: told as evidence, seal by seal, and never held against the old numbers."""

from tests.ingest.officers_page.a_county import County, a_phone, a_seal, a_step, seal_number
from tests.ingest.officers_page.test_plain_sheet import shown

LEFT = {"seal.SC-0141~front": "770001", "seal.BM-0141~front": "770004", "seal.SC-0141~auxiliary": ""}


def test_the_form_asks_for_each_seal_of_each_device_and_shows_no_number(county: County) -> None:
    page = a_phone(county).get("?step=t-departed").text
    words = shown(page[page.index('<section id="t-departed"') :].split("</section>")[0])
    for said in ("front of scanner SC-0141", "auxiliary of scanner SC-0141", "front of ballot-marking device BM-0141"):
        assert f"New seal, {said}" in words
    assert seal_number("SC-0141", "front") not in page


def test_new_seals_are_evidence_and_raise_nothing(county: County) -> None:
    phone = a_phone(county)
    phone.post(**a_seal(seal_number("SC-0141", "front")))
    assert phone.post(**a_step("departed", note="two bags", **LEFT)).status == 303
    left = [entry for entry in county.steps() if entry["step"] == "departed"]
    assert [(e["key"], e.get("device"), e.get("seal_position"), e.get("seal_number"), e.get("note")) for e in left] == [
        ("k-departed", None, None, None, "two bags"),
        ("k-departed.1", "SC-0141", "front", "770001", None),
        ("k-departed.2", "BM-0141", "front", "770004", None),
    ]
    assert county.house.get("/cases?state=all").body == []
    words = shown(phone.get().text)
    assert "Seal of SC-0141 front Number on the seal 770001" in words


def test_they_may_be_left_out_and_sent_twice(county: County) -> None:
    phone = a_phone(county)
    for _ in range(2):
        assert phone.post(**a_step("departed", **LEFT)).status == 303
    assert len(county.steps()) == 3
    assert phone.post(**a_step("departed", key="again")).status == 303
    assert county.house.aside() == []


def test_one_is_put_right_and_one_is_added_later(county: County) -> None:
    phone = a_phone(county)
    phone.post(**a_step("departed", note="two bags", **LEFT))
    again = phone.get("?again=t-departed").text
    assert 'name="corrects" value="k-departed"' in again
    right = {"seal.SC-0141~front": "770002", "seal.SC-0142~front": "770009"}
    for _ in range(2):
        assert phone.post(**a_step("departed", key="k-right", corrects="k-departed", **right)).status == 303
    correction, added = county.told()[3:]
    assert (correction["kind"], correction["corrects"], correction["seal_number"]) == (
        "correction",
        "k-departed.1",
        "770002",
    )
    assert (added["kind"], added["device"], added["seal_number"]) == ("step", "SC-0142", "770009")
    day = county.house.following.picture.places["P014"].day
    stands = {(entry.device, entry.text("seal_number")) for entry in day.steps if entry.device}
    assert stands == {("SC-0141", "770002"), ("BM-0141", "770004"), ("SC-0142", "770009")}
    assert day.steps[0].text("note") == "two bags"
    assert county.house.get("/cases?state=all").body == []


def test_a_seal_of_another_places_device_is_refused(county: County) -> None:
    answer = a_phone(county).post(**a_step("departed", **{"seal.SC-0151~front": "1"}))
    assert answer.status == 422
    assert county.told() == []


def test_the_items_of_the_plan_are_ticked_with_their_seals_and_the_two_who_carry_them(county: County) -> None:
    phone = a_phone(county)
    page = phone.get("?step=t-departed").text
    words = shown(page[page.index('<section id="t-departed"') :].split("</section>")[0])
    for said in ("Memory device, SC-0141", "Used ballots, container sealed", "New seal, Memory device, SC-0142"):
        assert said in words
    ticked = {"item.memory:SC-0141": "yes", "item.keys": "yes", "role.one": "officer in charge", "role.other": "rover"}
    assert phone.post(**a_step("departed", **ticked, **{"seal.memory:SC-0141~": "880001"})).status == 303
    place, seal = [entry for entry in county.steps() if entry["step"] == "departed"]
    assert (place["items"], place["roles"]) == (["memory:SC-0141", "keys"], ["officer in charge", "rover"])
    assert (seal["item"], seal["seal_number"], seal.get("device")) == ("memory:SC-0141", "880001", None)
    told = shown(phone.get().text)
    assert "Carried Memory device, SC-0141, Keys" in told
    assert "Seal of Memory device, SC-0141 Number on the seal 880001" in told


def test_what_is_ticked_when_it_is_put_right_is_added(county: County) -> None:
    phone = a_phone(county)
    phone.post(**a_step("departed", **{"item.keys": "yes"}))
    again = {"item.pollbooks": "yes", "seal.used-ballots~": "880002"}
    assert phone.post(**a_step("departed", key="k-right", corrects="k-departed", **again)).status == 303
    correction, seal = county.told()[1:]
    assert (correction["kind"], correction["items"]) == ("correction", ["keys", "pollbooks"])
    assert (seal["kind"], seal["item"]) == ("step", "used-ballots")


def test_an_item_that_the_plan_does_not_list_is_refused(county: County) -> None:
    assert a_phone(county).post(**a_step("departed", **{"item.piano": "yes"})).status == 422
    assert county.told() == []
