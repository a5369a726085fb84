"""`people add`: the people at the office."""

import argparse
from typing import Any

from county import upkeep
from county.cli.command import Given
from county.domain.people import Person, Role, read_name


def add_to(commands: Any) -> None:
    people = commands.add_parser("people", help="the people at the office", description="The people at the office.")
    actions = people.add_subparsers(metavar="ACTION", required=True)
    add = actions.add_parser("add", help="add a person", description="Add a person and what they are there for.")
    add.add_argument("name", metavar="NAME", help="the name shown beside what they do")
    add.add_argument("--role", required=True, choices=[role.value for role in Role], help="what they are there for")
    add.set_defaults(do=_add)


def _add(given: Given, asked: argparse.Namespace) -> int:
    person = Person(read_name(asked.name), Role(asked.role))
    added = upkeep.add_person(given.office, person)
    print(f"{'added' if added else 'nothing to add, already there:'} {person.name}, {person.role}")
    return 0
