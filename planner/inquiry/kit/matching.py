"""Which lead of a kit is which wire of a loom: by colour, size, length, and number and kind of ends.

Lengths are what a tape measure gives, so within ``SAME_LENGTH_METRES`` they count as equal; what they decide
beyond that is the sum of the differences. What they do not decide is told, never chosen.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from planner.inquiry.kit.pairing import pair_up
from planner.model.kit import KitLead, is_a
from planner.model.loom import Loom, Wire, split_address
from planner.model.part import Part

# Common practice, no source: a tape along a wire, and what leads of a kit are longer or shorter than drawn.
SAME_LENGTH_METRES = 0.03
MOST_OFF, MOST_OFF_METRES = 0.25, 0.10
MOST_OFF_SIZE = 0.15  # sizes by strands and by gauge differ so much from round ones


@dataclass(frozen=True, slots=True)
class Group:
    """Leads and wires that belong together; more than one of each where nothing tells them apart."""

    leads: tuple[KitLead, ...]
    wires: tuple[Wire, ...]

    @property
    def is_settled(self) -> bool:
        """Whether each wire has its lead, and the leads are of one row, so that any may go anywhere."""
        return len(self.leads) == len(self.wires) and len({lead.row for lead in self.leads}) == 1


@dataclass(frozen=True, slots=True)
class KitMatch:
    """Groups in the order of the kit, leads that are none of the wires, wires without a lead."""

    groups: tuple[Group, ...]
    left_over: tuple[KitLead, ...]
    missing: tuple[Wire, ...]


def match_kit(leads: Sequence[KitLead], loom: Loom, parts: Mapping[str, Part]) -> KitMatch:
    """Match every lead, each of a kind on its own, to a wire of the loom."""
    singles = [lead for lead in leads for _ in range(lead.count)]
    costs = {
        (row, column): cost
        for row, lead in enumerate(singles)
        for column, wire in enumerate(loom.wires)
        if (cost := _cost(lead, wire, loom, parts)) is not None
    }
    choices: dict[int, frozenset[int | None]] = {}
    for rows, columns in _islands(len(singles), costs):
        local = {(rows.index(r), columns.index(c)): cost for (r, c), cost in costs.items() if r in rows}
        found = pair_up(len(rows), len(columns), local)
        for number, row in enumerate(rows):
            choices[row] = frozenset(None if c is None else columns[c] for c in found.choices[number])
    return _grouped(singles, loom.wires, choices)


def _cost(lead: KitLead, wire: Wire, loom: Loom, parts: Mapping[str, Part]) -> int | None:
    """How far a lead is from a wire, in mm of length; None if it cannot be that wire."""
    metres = sum(wire.leg_metres(leg) for leg in range(len(wire.ends) - 1))
    off = abs(lead.metres - metres)
    if len(lead.ends) != len(wire.ends) or off > max(MOST_OFF * metres, MOST_OFF_METRES):
        return None
    if not {*lead.colours} & {*wire.colour} or len(set(wire.colour)) > 1:
        return None
    if lead.mm2 is not None and any(abs(lead.mm2 - mm2) > MOST_OFF_SIZE * mm2 for mm2 in wire.mm2):
        return None
    if not _ends_fit(lead.ends, [_fits_at(wire, n, loom, parts) for n in range(len(wire.ends))]):
        return None
    return max(0, round(1000 * (off - SAME_LENGTH_METRES)))


def _fits_at(wire: Wire, number: int, loom: Loom, parts: Mapping[str, Part]) -> str | None:
    """The fitting of a wire's end: as it is said, else what is usual there; None if nobody knows."""
    end = wire.ends[number]
    place, mark = split_address(end.at)
    part = parts.get(loom.places[place].part) if place in loom.places else None
    terminal = part.terminals.get(mark) if part else None
    if end.fitting is not None or terminal is None:
        return end.fitting or ("ring" if place == "earth" else None)
    return terminal.usual_end


def _ends_fit(ends: Sequence[str], fittings: Sequence[str | None]) -> bool:
    """Whether the ends of a lead can be those of a wire, in any order."""
    costs = {
        (row, column): 0
        for row, end in enumerate(ends)
        for column, fitting in enumerate(fittings)
        if fitting is None or is_a(end, fitting) or is_a(fitting, end)
    }
    found = pair_up(len(ends), len(fittings), costs)
    return all(None not in choices for choices in found.choices.values())


def _islands(rows: int, costs: Mapping[tuple[int, int], int]) -> list[tuple[list[int], list[int]]]:
    """Rows and columns that have anything to do with one another; each is paired up on its own."""
    of_row: dict[int, list[int]] = {row: [] for row in range(rows)}
    of_column: dict[int, list[int]] = {}
    for row, column in costs:
        of_row[row].append(column)
        of_column.setdefault(column, []).append(row)
    seen: set[int] = set()
    islands = []
    for start in range(rows):
        found, columns, queue = [], set[int](), [] if start in seen else [start]
        seen.add(start)
        while queue:
            row = queue.pop()
            found.append(row)
            for column in set(of_row[row]) - columns:
                columns.add(column)
                queue += [other for other in of_column[column] if other not in seen]
                seen.update(of_column[column])
        if found:
            islands.append((sorted(found), sorted(columns)))
    return islands


def _grouped(
    leads: Sequence[KitLead], wires: Sequence[Wire], choices: Mapping[int, frozenset[int | None]]
) -> KitMatch:
    """Leads that have a wire among their choices, those with wires in common together."""
    groups: list[tuple[set[int], set[int]]] = []
    left_over = []
    for row in range(len(leads)):
        columns = {column for column in choices[row] if column is not None}
        if not columns:
            left_over.append(leads[row])
            continue
        touching = [group for group in groups if group[1] & columns]
        for group in touching:
            groups.remove(group)
        rows = {row}.union(*(group[0] for group in touching))
        groups.append((rows, columns.union(*(group[1] for group in touching))))
    taken = {column for _, columns in groups for column in columns}
    return KitMatch(
        tuple(
            Group(tuple(leads[r] for r in sorted(rows)), tuple(wires[c] for c in sorted(columns)))
            for rows, columns in sorted(groups, key=lambda group: min(group[0]))
        ),
        tuple(left_over),
        tuple(wire for column, wire in enumerate(wires) if column not in taken),
    )
