"""What is owed reaches people: through failing, hanging and returning receivers; what became of it is a fact."""

import threading
import time
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from county import delivery, desk
from county.domain.plan import Contact, Plan
from county.domain.roster import Place, Roster
from county.sending import Sending
from county.store import copies
from county.store.engine import make_engine
from county.wiring import Office
from ingest.notice_loop import Sender
from tests.builders import after, an_exception
from tests.notices.an_office import QUICK, a_sqlite_office, an_office, facts, report, tell, the_plan, told, tried
from tests.notices.receivers import MailServer, Webhook, a_mail_server, a_webhook, number_of, until
from tests.told import a_person, a_rung

JAM = an_exception("scanner-jam", after(60), device="SC-0141")
NAME = "P014.scanner-jam.SC-0141"


@pytest.fixture
def hook() -> Iterator[Webhook]:
    with a_webhook() as hook:
        yield hook


def behind(address: str, name: str = "Ada Rill", role: str = "lead") -> Contact:
    return Contact(name, (role,), address)


def a_plan_behind(*addresses: str) -> Plan:
    """The lead behind the first address, told at once; the others' names are their letters, told at once too."""
    people = [
        behind(addresses[0]),
        *(behind(each, letter) for letter, each in zip("BCDEF", addresses[1:], strict=False)),
    ]
    return the_plan(a_rung(0), people=people)


def owing(office: Office) -> Office:
    """A jam reported, and whoever is to be told of it owed a notice."""
    report(office, JAM)
    tell(office)
    return office


def send_all(office: Office, enough: int = 200) -> None:
    """Turns of the loop until nothing is left to be sent; the waits are short here."""
    sender = Sender(office)
    for _ in range(enough):
        sender.turn()
        if not unsent(office):
            break
        threading.Event().wait(0.02)
    sender.stop(5)
    assert not unsent(office)


def unsent(office: Office) -> set[object]:
    ended = {fact["notice"] for fact in facts(office) if fact["fact"] in ("arrived", "failed")}
    return {fact["notice"] for fact in facts(office, "owed")} - ended


def test_a_notice_arrives_and_the_case_says_so(database_url: str, hook: Webhook) -> None:
    with an_office(database_url, a_plan_behind(hook.address), 61) as office:
        send_all(owing(office))
        [owed], [arrived] = facts(office, "owed"), facts(office, "arrived")
        assert hook.numbers == [owed["notice"]] == [arrived["notice"]]
        assert (arrived["person"], arrived["channel"], arrived["tries"]) == ("Ada Rill", "webhook", 1)
        assert told(office) == {NAME: ("lead (Ada Rill) by webhook 07:01, arrived",)}
        assert hook.taken[0]["title"].startswith("REHEARSAL: Voting impaired")
        assert desk.failed_notices(office) == []


def test_a_receiver_that_fails_and_comes_back_gets_it_under_the_same_number(database_url: str, hook: Webhook) -> None:
    hook.answers = lambda number: 500 if number < 4 else 200
    with an_office(database_url, a_plan_behind(hook.address), 61) as office:
        send_all(owing(office))
        assert len(hook.tried) == 4
        assert len(set(hook.tried)) == 1
        assert [fact["tries"] for fact in facts(office, "arrived")] == [4]


def test_what_never_arrives_is_a_fact_and_is_shown_to_the_desk(
    database_url: str, hook: Webhook, caplog: pytest.LogCaptureFixture
) -> None:
    hook.answers = lambda number: 500
    with an_office(database_url, a_plan_behind(hook.address), 61) as office:
        send_all(owing(office))
        assert len(hook.tried) == QUICK.tries
        [failed] = desk.failed_notices(office)
        assert (failed.case, failed.person, failed.role, failed.channel) == (NAME, "Ada Rill", "lead", "webhook")
        assert failed.why
        [fact] = facts(office, "failed")
        assert (fact["notice"], fact["tries"]) == (failed.notice, QUICK.tries)
        assert told(office) == {NAME: ("lead (Ada Rill) by webhook 07:01, did not arrive",)}
        assert "127.0.0.1" not in str(fact)
        assert "try 4 of 4" in caplog.text


def test_the_waits_between_tries_grow_and_differ(hook: Webhook) -> None:
    sending = Sending(first_wait=timedelta(seconds=4), longest_wait=timedelta(seconds=60))
    waits = [[sending.wait_after(tries, delivery._luck).total_seconds() for _ in range(50)] for tries in range(1, 9)]
    for tries, some in enumerate(waits):
        longest = min(60, 4 * 2**tries)
        assert longest / 2 <= min(some) < max(some) <= longest


def test_a_receiver_that_hangs_holds_up_nobody_else(database_url: str, hook: Webhook) -> None:
    patient = replace(QUICK, timeout=timedelta(seconds=60))
    with a_webhook() as hanging:
        hanging.answers = lambda number: 60.0
        with an_office(database_url, a_plan_behind(hanging.address, hook.address), 61, patient) as office:
            sender = Sender(owing(office))
            sender.turn()
            until(lambda: facts(office, "arrived") and hanging.tried)
            assert [fact["person"] for fact in facts(office, "arrived")] == ["B"]
            assert len(unsent(office)) == len(hanging.tried) == 1
            hanging.stopping.set()
            sender.stop(20)


def test_more_who_hang_than_are_sent_to_at_once_hold_up_the_rest_for_a_while_only(
    hook: Webhook, tmp_path: Path
) -> None:
    quick = replace(QUICK, timeout=timedelta(seconds=1.5), tries=1)
    with a_webhook() as hanging:
        hanging.answers = lambda number: 30.0
        plan = a_plan_behind(hanging.address, hanging.address, hanging.address, hook.address)
        with a_sqlite_office(tmp_path, plan, quick) as office:
            sender = Sender(owing(office), most_at_once=2)
            until(lambda: (sender.turn(), not unsent(office))[1], 15)
            sender.stop(5)
            assert [fact["person"] for fact in facts(office, "arrived")] == ["D"]
            assert len(facts(office, "failed")) == 3
            assert {failed.why for failed in desk.failed_notices(office)} == {"no answer within 1.5 s"}


def test_a_burst_of_two_hundred_places_is_one_message_and_each_notice_has_its_fact(
    database_url: str, hook: Webhook
) -> None:
    roster = Roster(places=tuple(Place(f"P{number:03}", f"Hall {number}") for number in range(1, 201)))
    with an_office(database_url, a_plan_behind(hook.address), 61, roster=roster) as office:
        report(office, *(an_exception("scanner-jam", after(60), place=place.place) for place in roster.places))
        tell(office)
        send_all(office)
        [message] = hook.taken
        assert message["title"] == "REHEARSAL: Scanner jam: 200 cases at 200 places"
        arrived = facts(office, "arrived")
        assert len(arrived) == len({fact["notice"] for fact in arrived}) == 200
        assert {fact["message"] for fact in arrived} == {number_of(message["message"])}
        assert len(told(office)) == 200


def test_a_case_of_another_kind_is_told_beside_a_burst(database_url: str, hook: Webhook) -> None:
    with an_office(database_url, a_plan_behind(hook.address), 61) as office:
        jams = (an_exception("scanner-jam", after(60), place=place) for place in ("P014", "P015", "P016"))
        report(office, *jams, an_exception("pollbook-outage", after(60)))
        tell(office)
        send_all(office)
        assert sorted("Pollbooks" in each["title"] for each in hook.taken) == [False, True]


def test_a_burst_that_trickles_in_is_a_few_messages_and_one_for_the_rest(hook: Webhook, tmp_path: Path) -> None:
    slow = replace(QUICK, burst=timedelta(seconds=1.5))
    roster = Roster(places=tuple(Place(f"P{number:03}", f"Hall {number}") for number in range(1, 31)))
    with a_sqlite_office(tmp_path, a_plan_behind(hook.address), slow, roster) as office:
        sender = Sender(office)
        began = time.monotonic()
        for place in roster.places:
            report(office, an_exception("scanner-jam", after(60), place=place.place))
            tell(office)
            sender.turn()
        bursts = (time.monotonic() - began) / slow.burst.total_seconds()
        until(lambda: (sender.turn(), not unsent(office))[1], 15)
        sender.stop(5)
        # a busy machine trickles for longer
        assert len(hook.taken) <= 5 + bursts
        assert len(hook.taken) >= 2
        assert "P001 Hall 1" in hook.taken[0]["message"]


def test_notices_of_one_case_arrive_in_order_although_the_first_fails_at_first(hook: Webhook, tmp_path: Path) -> None:
    hook.answers = lambda number: 500 if number < 3 else 200
    plan = the_plan(a_rung(0), a_rung(5), a_rung(10), people=[behind(hook.address)])
    with a_sqlite_office(tmp_path, plan) as office:
        sender = Sender(owing(office))
        sender.turn()
        for minutes in (66, 71):
            tell(replace(office, clock=replace(office.clock, starts=after(minutes))))
            sender.turn()
        sender.stop(5)
        send_all(office)
        assert hook.numbers == [fact["notice"] for fact in facts(office, "owed")]


def test_an_address_put_right_in_the_settings_reaches_whoever_could_not_be_reached(
    hook: Webhook, tmp_path: Path
) -> None:
    plan = the_plan(a_rung(0), people=[behind("setting:LEAD")])
    with a_sqlite_office(tmp_path, plan) as office:
        assert unreachable(office) == ["person Ada Rill: POLLRISE_NOTICE_TO_LEAD is not set"]
        sender = Sender(owing(office))
        sender.turn()
        sender.stop(5)
        settings = replace(office.settings, sending=replace(QUICK, addresses={"LEAD": hook.address}))
        right = replace(office, settings=settings)
        assert unreachable(right) == []
        send_all(right)
        assert len(hook.taken) == 1


def test_somebody_whom_the_plan_no_longer_names_is_a_failure_and_not_a_crash(tmp_path: Path) -> None:
    with a_sqlite_office(tmp_path, the_plan(a_rung(0))) as office:
        owing(office)
        send_all(replace(office, plan=the_plan(people=[a_person("Bo Fenn", "director")])))
        assert [failed.why for failed in desk.failed_notices(office)] == ["the plan no longer names this person"]


def test_a_mail_arrives_after_the_mail_server_has_come_back(tmp_path: Path) -> None:
    with a_mail_server() as mail:
        mail.refuses = True
        patient = replace(QUICK, tries=50)
        with a_sqlite_office(tmp_path, a_plan_behind(mail.address), patient) as office:
            sender = Sender(owing(office))
            until(lambda: (sender.turn(), tried(office) >= 2)[1], 15)
            mail.refuses = False
            until(lambda: (sender.turn(), mail.mails)[1], 15)
            sender.stop(5)
            send_all(office)
            assert subject(mail).startswith("REHEARSAL: Voting impaired: Scanner jam, SC-0141, P014 Mill Creek School")
            assert told(office) == {NAME: ("lead (Ada Rill) by e-mail 07:01, arrived",)}


def test_what_was_owed_when_a_backup_was_taken_is_sent_by_the_office_it_is_restored_into(
    database_url: str, hook: Webhook, tmp_path: Path
) -> None:
    plan = a_plan_behind(hook.address)
    with a_sqlite_office(tmp_path, plan) as office:
        copies.back_up(owing(office).engine, tmp_path / "copy.db")
    restored = replace(office, engine=make_engine(database_url))
    copies.restore(restored.engine, tmp_path / "copy.db")
    send_all(restored)
    assert hook.numbers == [fact["notice"] for fact in facts(restored, "arrived")]
    restored.engine.dispose()


def test_two_processes_worth_of_senders_send_each_once(database_url: str, hook: Webhook) -> None:
    people = [behind(hook.address, f"P{number}") for number in range(12)]
    with an_office(database_url, the_plan(a_rung(0), people=people), 61) as office:
        owing(office)
        senders = [Sender(office), Sender(office), Sender(office)]
        threads = [threading.Thread(target=sender.turn) for sender in senders]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        for sender in senders:
            sender.stop(5)
        assert sorted(hook.numbers) == sorted(str(fact["notice"]) for fact in facts(office, "owed"))


def unreachable(office: Office) -> list[str]:
    return [str(problem) for problem in delivery.unreachable(office.plan, office.settings.sending)]


def subject(mail: MailServer) -> str:
    [one] = mail.mails
    return str(one["subject"])
