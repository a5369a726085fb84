"""The made-up logs of a made-up day agree with it but for what was planted in them."""

from collections import Counter

from county.domain.device_log_file import read_log_file
from county.domain.log_claims import Verdict
from county.domain.logs_beside import LogFile, logs_beside
from county.domain.picture import Picture
from county.rehearsal.day import made_up_day
from county.rehearsal.device_logs import made_up_logs
from county.rehearsal.log_writing import documentation_as_xml, log_as_xml
from county.rehearsal.luck import WHOLE_DAY
from county.rehearsal.roster import made_up_county
from tests.rehearsal.days import entries_of, sample_county, sample_plan


def test_the_logs_agree_with_the_day_but_for_one_clock_one_zero_check_and_one_gap() -> None:
    county, plan = sample_county(), sample_plan()
    made = made_up_logs(county, plan, "rough", 1)
    assert made is not None
    log, documentation = made
    picture = Picture.of(county, plan, entries_of(made_up_day(county, plan, "rough", 1, WHOLE_DAY)))
    files = [LogFile("log", "1", read_log_file(log_as_xml(log)))]
    files.append(LogFile("ids", "2", read_log_file(documentation_as_xml(documentation, "2026-11-03"))))
    found = logs_beside(files, picture)
    assert len(found) == sum(device.model == "Harrow S2" for device in county.devices)
    assert {fault.id for each in found for fault in each.faults} == {"sequence-gaps"}
    hour_off = {each.device for each in found if any(claim.clock_not_changed for claim in each.claims)}
    no_zero = {
        each.device
        for each in found
        if any(claim.what == "zero-report" and claim.verdict is Verdict.LOG_SILENT for claim in each.claims)
    }
    assert (len(hour_off), len(no_zero)) == (1, 1)
    told = Counter(claim.verdict for each in found for claim in each.claims)
    assert told[Verdict.AGREES] > 0.7 * sum(told.values())


def test_a_seed_is_a_log_and_a_county_without_such_scanners_has_none() -> None:
    county, plan = sample_county(), sample_plan()
    assert made_up_logs(county, plan, "normal", 3) == made_up_logs(county, plan, "normal", 3)
    models = {device.model for device in made_up_county(4).devices if device.type == "scanner"}
    assert (made_up_logs(made_up_county(4), plan, "normal", 1) is None) is models.isdisjoint(plan.logs.by_model)
