"""`python -m county rehearse` against the real endpoint and drop folder."""

import re
import signal
from datetime import timedelta
from pathlib import Path

import httpx
import pytest

from county import desk
from county.domain.moments import parse_moment, write_moment
from county.domain.receipts import SetAside
from county.rehearsal.day import made_up_day
from county.rehearsal.roster import made_up_county
from county.rehearsal.sent import DROP
from county.setting_up import SAMPLE_PLAN, set_up
from county.settings import settings_from
from county.wiring import Office, open_office
from tests.rehearsal.days import minutes_late, openings, sample_county, sample_plan
from tests.rehearsal.programs import environment, free_port, listens, run, running, wait_for

CLOSING_LINE = re.compile(
    r"sent (\S+): (\S+) kept, (\S+) already held, (\S+) conflicts, (\S+) refused; (\S+) files dropped with (\S+) rows\n"
)


def figures(said: str) -> list[int]:
    """The closing line's seven numbers; it is the last line said."""
    found = CLOSING_LINE.fullmatch(said.splitlines(keepends=True)[-1])
    assert found, said
    return [int(number.replace(",", "")) for number in found.groups()]


def office_of(env: dict[str, str]) -> Office:
    return open_office(settings_from({name: value for name, value in env.items() if name.startswith("POLLRISE_")}))


def settings_for(folder: Path) -> dict[str, str]:
    return environment(folder, POLLRISE_DATA=str(folder / "data"), POLLRISE_PORT=str(free_port()))


def set_aside_of(office: Office) -> list[SetAside]:
    return desk.set_aside_list(office)


def test_a_day_without_waiting_is_kept_whole_and_a_second_time_changes_nothing(tmp_path: Path) -> None:
    env = settings_for(tmp_path)
    command = ("county", "rehearse", "--regime", "rough", "--seed", "1", "--no-wait")
    done = run(*command, env=env)
    assert done.returncode == 0, done.stderr
    sent, kept, held, conflicts, refused, files, rows = figures(done.stdout)

    day = made_up_day(sample_county(), sample_plan(), "rough", 1)
    good = {each.raw["key"] for each in day if not each.is_mistake}
    assert sent == sum(each.how != DROP for each in day) == kept + held + conflicts + refused
    assert rows == sum(each.how == DROP for each in day)
    assert conflicts >= 1
    assert held >= 1
    assert refused == sum(each.is_mistake and each.how != DROP for each in day)

    office = office_of(env)
    entries = desk.ledger_pages(office, limit=10_000)
    assert {str(entry["key"]) for entry in entries} >= good
    assert len(set_aside_of(office)) >= refused + conflicts
    assert len(list((tmp_path / "data" / "drop" / "done").glob("rehearsal-*.csv"))) >= files
    assert not list((tmp_path / "data" / "drop" / "in").iterdir())
    office.engine.dispose()

    again = figures(run(*command, env=env).stdout)
    assert again[1] == 0
    assert again[2] == kept + held
    verified = run("county", "verify", env=env)
    assert verified.returncode == 0, verified.stderr
    assert list(tmp_path.iterdir()) == [tmp_path / "data"], "a throw-away folder was left"


def test_an_endpoint_that_runs_already_is_used_and_its_picture_counts_the_places(tmp_path: Path) -> None:
    places = 24
    county, plan = made_up_county(places), sample_plan()
    day = made_up_day(county, plan, "common-cause", 5)
    after = write_moment(day[-1].at + timedelta(minutes=5))
    env = settings_for(tmp_path) | {"POLLRISE_NOW": f"{after}x0"}
    at = f"http://127.0.0.1:{env['POLLRISE_PORT']}"
    assert run("county", "init", env=env).returncode == 0
    key = run("county", "keys", "issue", "--desk", "counter", env=env).stdout.split()[-1]
    says = tmp_path / "said.txt"
    with running("ingest", env=env, says=says) as ingest:
        wait_for(lambda: listens(int(env["POLLRISE_PORT"])), ingest, says)
        done = run(
            "county",
            "rehearse",
            "--places",
            str(places),
            "--regime",
            "common-cause",
            "--seed",
            "5",
            "--no-wait",
            env=env,
        )
        assert done.returncode == 0, done.stderr
        assert ingest.poll() is None, "the endpoint that ran already was stopped"
        told = httpx.get(f"{at}/picture", headers={"Authorization": f"Bearer {key}"}, trust_env=False).json()
    assert sum(told["totals"].values()) == places
    opened = {place["place"]: parse_moment(place["opened_at"]) for place in told["places"] if place["opened_at"]}
    assert opened.keys() == openings(day).keys()
    late = {place["place"] for place in told["places"] if place["opened_at"] and place["minutes_late"]}
    expected_late = {place for place, minutes in minutes_late(day, county, plan).items() if minutes}
    hour_ahead = {str(each.raw["place"]) for each in day if each.plays == "clock an hour ahead"}
    # long after the day an hour ahead is no longer seen to be from the future
    assert expected_late <= late <= expected_late | hour_ahead


def test_a_day_by_the_clock_arrives_when_it_is_sent(tmp_path: Path) -> None:
    env = settings_for(tmp_path)
    done = run("county", "rehearse", "--places", "6", "--speed", "1800", "--regime", "normal", env=env)
    assert done.returncode == 0, done.stderr
    day = made_up_day(made_up_county(6), sample_plan(), "normal", 1)
    sent_at = {each.raw["key"]: each.at for each in reversed(day)}
    office = office_of(env)
    entries = [entry for entry in desk.ledger_pages(office, limit=10_000) if entry["key"] in sent_at]
    office.engine.dispose()
    assert len(entries) > 50
    for entry in entries:
        received_at = parse_moment(str(entry["received_at"]))
        assert received_at is not None
        assert received_at >= sent_at[entry["key"]]
        assert entry["clock"] == "set"
    received = sorted(str(entry["received_at"]) for entry in entries)
    begun, ended = parse_moment(received[0]), parse_moment(received[-1])
    assert begun is not None
    assert ended is not None
    # a busy machine begins late; sent without waiting, all would be there within minutes
    assert ended - begun > timedelta(hours=1)


@pytest.mark.parametrize("with_signal", [signal.SIGINT, signal.SIGTERM])
def test_told_to_stop_it_stops_its_endpoint_too(tmp_path: Path, with_signal: signal.Signals) -> None:
    env = settings_for(tmp_path)
    port = int(env["POLLRISE_PORT"])
    says = tmp_path / "said.txt"
    with running("county", "rehearse", "--places", "3", env=env, says=says) as rehearsal:
        wait_for(lambda: listens(port), rehearsal, says)
        rehearsal.send_signal(with_signal)
        assert rehearsal.wait(30) == 130
    assert not listens(port)
    assert says.read_text() == "stopped\n"
    assert sorted(each.name for each in tmp_path.iterdir()) == ["data", "said.txt"]


def test_nothing_made_up_goes_into_the_ledger_of_a_real_plan(tmp_path: Path) -> None:
    env = settings_for(tmp_path)
    plan = tmp_path / "real.toml"
    plan.write_text(SAMPLE_PLAN.read_text(encoding="utf-8").replace("rehearsal = true", "rehearsal = false"), "utf-8")
    done = run("county", "rehearse", "--no-wait", env=env | {"POLLRISE_PLAN": str(plan)})
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1
    assert "rehearsal = true" in done.stderr
    assert not (tmp_path / "data").exists()


def test_an_endpoint_of_another_ledger_is_not_taken_for_ours(tmp_path: Path) -> None:
    other = environment(tmp_path, POLLRISE_DATA=str(tmp_path / "other"), POLLRISE_PORT=str(free_port()))
    set_up(settings_from(other))
    says = tmp_path / "said.txt"
    with running("ingest", env=other, says=says) as ingest:
        wait_for(lambda: listens(int(other["POLLRISE_PORT"])), ingest, says)
        env = other | {"POLLRISE_DATA": str(tmp_path / "data")}
        done = run("county", "rehearse", "--places", "3", "--no-wait", env=env)
    assert done.returncode == 1
    assert done.stderr.count("\n") == 1
    assert "401" in done.stderr
