"""Which lead of a kit goes where in a loom that is there."""

from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Any

from planner.inquiry.kit.matching import Group, KitMatch
from planner.model.kit import KitLead
from planner.model.loom import Loom, Wire
from planner.model.wording import address_words, colour_words, counted
from planner.reading.kit_leads import Kit
from planner.sheets.sheet import Block, Cell, Item, Listing, Section, Sheet, bullets


def match_sheet(file: str, loom: Loom, match: KitMatch) -> Sheet:
    """Leads that are told, those that nothing tells apart, those left over, wires without one."""
    settled = [_settled(group, loom) for group in match.groups if group.is_settled]
    undecided = [_undecided(group, loom) for group in match.groups if not group.is_settled]
    sections = (
        Section("What goes where", _listing(settled)),
        Section("Not decided: nothing here tells these apart", _listing(undecided)),
        Section("Left over: no wire of the loom is like these", _bullets(map(_lead, match.left_over))),
        Section(
            "Missing: no lead of the kit is like these",
            _bullets(_wire(wire, loom) for wire in match.missing),
        ),
    )
    told = tuple(section for section in sections if section.blocks)
    return Sheet(f"Leads of {file} in {loom.title or loom.loom}", told)


def kit_sheet(file: str, kit: Kit) -> Sheet:
    """What each row of a kit was read as."""
    items = [
        Item(Cell(f"row {lead.row}:", "quiet"), Cell(f"{lead.count} x {lead.name}, {lead.words}"))
        for lead in kit.leads
    ]
    unread = (f"not read, for no such column is known: {', '.join(kit.unread)}",) if kit.unread else ()
    sections = (Section("", _listing(items)), Section("Mind", _bullets(unread)))
    told = tuple(section for section in sections if section.blocks)
    return Sheet(f"Read from {file}: {counted(len(kit.leads), 'kind')} of leads", told)


def match_json(file: str, match: KitMatch) -> dict[str, Any]:
    """The same for a program."""
    return {
        "kit": file,
        "groups": [
            {
                "leads": [lead.name for lead in group.leads],
                "wires": [wire.wire for wire in group.wires],
                "settled": group.is_settled,
            }
            for group in match.groups
        ],
        "left_over": [lead.name for lead in match.left_over],
        "missing": [wire.wire for wire in match.missing],
    }


def _settled(group: Group, loom: Loom) -> Item:
    lead, count = _lead(group.leads[0]), len(group.leads)
    alike = f", {count} that are alike: it does not matter which goes where" if count > 1 else ""
    return Item(Cell("-"), Cell(lead + alike), tuple(Cell(_wire(wire, loom)) for wire in group.wires))


def _undecided(group: Group, loom: Loom) -> Item:
    leads = " or ".join(dict.fromkeys(map(_lead, group.leads)))
    over = len(group.leads) - len(group.wires)
    rest = ""
    if over:
        rest = f"; {over} left over" if over > 0 else f"; {counted(-over, 'wire')} without a lead"
    wires = tuple(Cell(f"wire: {_wire(wire, loom)}") for wire in group.wires)
    hint = Cell("measure length and size once more, or find both ends with a meter", "note")
    return Item(Cell("?", "warn"), Cell(leads + rest), (*wires, hint))


def _lead(lead: KitLead) -> str:
    return f"{lead.name} ({lead.words})"


def _wire(wire: Wire, loom: Loom) -> str:
    first, *others = (address_words(loom, end.at) for end in wire.ends)
    metres = sum(wire.leg_metres(leg) for leg in range(len(wire.ends) - 1))
    route = f"from {first} to {', on to '.join(others)}"
    return f"{colour_words(wire.leg_colour(0))} ({wire.wire}), {metres:g} m, {route}"


def _listing(items: Sequence[Item]) -> tuple[Block, ...]:
    return (Listing(tuple(items)),) if items else ()


def _bullets(texts: Iterable[str]) -> tuple[Block, ...]:
    said = Counter(texts)
    lines = tuple(text if count == 1 else f"{text}, {count} of them" for text, count in said.items())
    return (bullets(lines, "warn"),) if lines else ()
