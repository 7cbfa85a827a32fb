"""Which terminals of a part are joined in which position, as rows of a table."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from math import prod

from planner.model.contact_table import ContactTable
from planner.model.elements import Contact
from planner.model.part import Part

MOST_ROWS = 32
NOT_NAMED = ""  # a condition's value that no contact waits for


@dataclass(frozen=True, slots=True)
class ContactRows:
    """Contacts that have terminals or variables in common, and what they join in each position."""

    variables: tuple[str, ...]
    rows: tuple[tuple[tuple[str, ...], tuple[tuple[str, ...], ...]], ...]  # values, groups joined


def contact_rows(part: Part) -> tuple[ContactRows, ...]:
    """One table for each set of contacts that have nothing to do with the others.

    A set with more than ``MOST_ROWS`` positions is given contact by contact.
    """
    tables = []
    for contacts in _apart(part):
        values = _values(part, contacts)
        if prod(len(v) for v in values.values()) > MOST_ROWS:
            tables += [_by_contact(contact) for contact in contacts]
        else:
            tables.append(_by_position(part, contacts, values))
    return tuple(tables)


def _apart(part: Part) -> list[list[Contact]]:
    """The contacts of a part in sets that share neither a terminal nor a variable."""
    sets: list[tuple[set[str], list[Contact]]] = []
    for contact in part.inside:
        if isinstance(contact, Contact):
            touched = {f"terminal {name}" for name in contact.join} | {
                f"variable {name}" for name in contact.when
            }
            meeting = [s for s in sets if s[0] & touched]
            sets = [s for s in sets if not s[0] & touched]
            names = touched.union(*(s[0] for s in meeting))
            sets.append((names, [c for s in meeting for c in s[1]] + [contact]))
    return [contacts for _, contacts in sets]


def _values(part: Part, contacts: Sequence[Contact]) -> dict[str, tuple[str, ...]]:
    """Every variable that some contacts wait for, with its values; of a condition those that are named."""
    named: dict[str, dict[str, None]] = {}
    for contact in contacts:
        for name, labels in contact.when.items():
            named.setdefault(name, {}).update(dict.fromkeys(labels))
    return {name: part.variables.get(name, (*labels, NOT_NAMED)) for name, labels in named.items()}


def _by_position(
    part: Part, contacts: Sequence[Contact], values: Mapping[str, tuple[str, ...]]
) -> ContactRows:
    positions = [dict(zip(values, combination, strict=True)) for combination in product(*values.values())]
    table = ContactTable(part, positions, {})
    nodes = [n for n in (*part.terminals, *part.nodes) if any(n in contact.join for contact in contacts)]
    joined = {(one, other): table.joined(one, other) for one in nodes for other in nodes}
    rows = []
    for number, position in enumerate(positions):
        groups = dict.fromkeys(tuple(o for o in nodes if joined[n, o][number]) for n in nodes)
        rows.append((tuple(position.values()), tuple(group for group in groups if len(group) > 1)))
    return ContactRows(tuple(values), tuple(rows))


def _by_contact(contact: Contact) -> ContactRows:
    values = tuple(" or ".join(labels) for labels in contact.when.values())
    return ContactRows(tuple(contact.when), ((values, (contact.join,)),))


def position_words(part: Part, name: str, value: str) -> str:
    """A value as the table shows it: its label, and what it means where that differs."""
    if value == NOT_NAMED:
        return "otherwise"
    control = part.controls.get(name)
    meanings = {p.label: p.meaning for p in control.positions} if control else {}
    meaning = meanings.get(value, value)
    return value if meaning == value else f"{value} ({meaning})"
