"""`people`: who works at the office, what each may do, their first passwords, and the end of an account."""

import argparse
import sys
from typing import Any

from county import signing_in, staffing
from county.cli.command import Given, counted
from county.domain.moments import write_moment
from county.domain.people import Account, Person, Role, known_form, read_name

ONCE = "first password shown this once, to be changed at the first sign-in"


def add_to(commands: Any) -> None:
    people = commands.add_parser("people", help="the people at the office", description="The people at the office.")
    actions = people.add_subparsers(metavar="ACTION", required=True)
    add = _action(
        actions,
        "add",
        "add a person",
        "Add a person and what they are there for, and show their first password once: name, tab, password.",
        _add,
    )
    add.add_argument("--role", required=True, choices=[role.value for role in Role], help="what they are there for")
    add.add_argument(
        "--known-as", default="", metavar="NAME", help="what the county's sign-in provider calls them (their e-mail)"
    )
    listed = actions.add_parser(
        "list",
        help="everybody, and how their account stands",
        description="Everybody: name, role, how the account stands, what the provider calls them; tabs between.",
    )
    listed.set_defaults(do=_list)
    role = _action(actions, "role", "change a role", "Change what a person is there for, from this moment on.", _role)
    role.add_argument("--role", required=True, choices=[role.value for role in Role], help="what they are there for")
    _action(
        actions,
        "password",
        "give a new first password",
        "Give a person a new first password, shown once, and sign them out everywhere. Takes back an ended account.",
        _password,
    )
    known_as = _action(
        actions, "known-as", "what the sign-in provider calls them", "Say what the provider calls a person.", _known_as
    )
    known_as.add_argument("known_as", metavar="KNOWN-AS", help="their name there, usually an e-mail; empty for none")
    _action(actions, "sign-out", "sign a person out everywhere", "End every session of a person at once.", _sign_out)
    _action(actions, "end", "end an account", "End a person's account and sign them out everywhere at once.", _end)
    failed = actions.add_parser(
        "failed", help="tries to sign in that failed", description="The tries to sign in that failed, newest first."
    )
    failed.set_defaults(do=_failed)


def _action(actions: Any, word: str, help_: str, description: str, do: Any) -> Any:
    parser = actions.add_parser(word, help=help_, description=description)
    parser.add_argument("name", metavar="NAME", help="the name shown beside what they do")
    parser.set_defaults(do=do)
    return parser


def _add(given: Given, asked: argparse.Namespace) -> int:
    person = Person(read_name(asked.name), Role(asked.role))
    password = staffing.add_person(given.office, person, known_as=known_form(asked.known_as))
    return _shown_once(
        f"{'added' if password else 'nothing to add, already there:'} {person.name}, {person.role}",
        person.name,
        password,
    )


def _password(given: Given, asked: argparse.Namespace) -> int:
    password = staffing.reset_password(given.office, asked.name)
    return _shown_once(f"{asked.name} is signed out everywhere", asked.name, password)


def _shown_once(says: str, name: str, password: str) -> int:
    """The password alone on the line, what was done beside it."""
    if password:
        print(f"{name}\t{password}")
        print(f"{says}; {ONCE}", file=sys.stderr)
    else:
        print(says)
    return 0


def _list(given: Given, asked: argparse.Namespace) -> int:
    for each in staffing.accounts(given.office):
        print("\t".join((each.name, each.role, _stands(each), each.known_as)).rstrip())
    return 0


def _stands(account: Account) -> str:
    if account.ended_at:
        return f"ended {write_moment(account.ended_at)}"
    return "has not signed in yet" if account.must_change else "in use"


def _role(given: Given, asked: argparse.Namespace) -> int:
    changed = staffing.change_role(given.office, asked.name, Role(asked.role))
    print(f"{asked.name} is here as {asked.role}{'' if changed else ' already'}")
    return 0


def _known_as(given: Given, asked: argparse.Namespace) -> int:
    staffing.call_by(given.office, asked.name, known_form(asked.known_as))
    print(f"{asked.name} is known to the provider as {asked.known_as or 'nobody'}")
    return 0


def _sign_out(given: Given, asked: argparse.Namespace) -> int:
    ended = staffing.sign_out_everywhere(given.office, asked.name)
    print(f"ended {counted(ended, 'session')} of {asked.name}")
    return 0


def _end(given: Given, asked: argparse.Namespace) -> int:
    ended = staffing.end_account(given.office, asked.name)
    print(f"the account of {asked.name} {'has ended' if ended else 'had ended already'}; nobody signs in with it")
    return 0


def _failed(given: Given, asked: argparse.Namespace) -> int:
    for each in signing_in.failed_sign_ins(given.office):
        print("\t".join((write_moment(each.tried_at), each.person or "(nobody of that name)", each.address, each.why)))
    return 0
