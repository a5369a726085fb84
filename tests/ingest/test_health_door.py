"""GET /health and /metrics: no key, no place, and the truth about the database."""

import re
from pathlib import Path

from county.domain.going_round import Work
from ingest.loops import Loop
from ingest.metrics import Metric, exposition
from tests.an_office import set_up
from tests.ingest.an_office import House, a_report, answering

LINE = re.compile(r'[a-z_]+(\{[a-z_]+="[^"\\\n]*"\})? -?\d+')


def values(house: House) -> dict[str, int]:
    lines = house.ask("GET", "/metrics").text.splitlines()
    return {name: int(value) for name, value in (line.split() for line in lines if not line.startswith("#"))}


def test_health_needs_no_key_and_tells_the_last_entry(house: House) -> None:
    assert house.ask("GET", "/health").body == {"status": "ok", "seq": 1, "loops": {}, "stalled": []}
    house.post(a_report())
    assert house.ask("GET", "/health").body["seq"] == 2


def test_health_and_metrics_say_which_loop_has_not_come_round(tmp_path: Path) -> None:
    now = [0.0]
    loops = [Loop(name, 1.0, lambda: None, timer=lambda: now[0]) for name in (Work.CLOCK, Work.DROP)]
    with answering(set_up(tmp_path / "data"), loops=loops) as house:
        now[0] = 45.0
        slow = house.ask("GET", "/health")
        now[0] = 90.0
        stalled = house.ask("GET", "/health")
        said = house.ask("GET", "/metrics").text
    assert (slow.status, slow.body["status"], slow.body["loops"]) == (200, "ok", {"clock": 45, "drop folder": 45})
    assert (stalled.status, stalled.body["status"], stalled.body["stalled"]) == (503, "stalled", ["clock"])
    assert 'pollrise_loop_stalled{loop="clock"} 1' in said
    assert 'pollrise_loop_stalled{loop="drop folder"} 0' in said
    assert 'pollrise_loop_turned_seconds{loop="clock"} 90' in said


def test_metrics_are_openmetrics_text_to_the_end_mark(house: House) -> None:
    reply = house.ask("GET", "/metrics")
    assert reply.status == 200
    assert reply.headers["content-type"] == "application/openmetrics-text; version=1.0.0; charset=utf-8"
    lines = reply.text.split("\n")
    assert lines[-2:] == ["# EOF", ""]
    families = [line.split()[2] for line in lines if line.startswith("# TYPE")]
    assert len(families) == len(set(families)) > 4
    for line in lines[:-2]:
        assert line.startswith(("# TYPE pollrise_", "# HELP pollrise_")) or LINE.fullmatch(line), line


def test_metrics_count_what_was_done_since_the_start(house: House) -> None:
    house.post(a_report(public_counter=3))
    house.post(a_report(public_counter=3))
    house.post(a_report(public_counter=4))
    house.post(a_report(key="bad key"))
    found = values(house)
    for outcome in ("kept", "already-held", "conflict", "refused"):
        assert found[f'pollrise_reports_total{{outcome="{outcome}"}}'] == 1
    assert found["pollrise_entries"] == found["pollrise_last_seq"] == 2
    assert found["pollrise_open_cases"] == 1
    assert found["pollrise_queue_length"] == 0
    assert found["pollrise_real_clock"] == 0


def test_metrics_name_no_place_and_no_person(house: House) -> None:
    house.post(a_report())
    text = house.ask("GET", "/metrics").text
    assert not any(word in text for word in ("P014", "Mill Creek", "Front desk"))


def test_a_counter_s_sample_carries_its_suffix() -> None:
    text = exposition([Metric("reports", "counter", "Reports.", {"kept": 2}, "outcome")])
    assert text == '# TYPE reports counter\n# HELP reports Reports.\nreports_total{outcome="kept"} 2\n# EOF\n'
