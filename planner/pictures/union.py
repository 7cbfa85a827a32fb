"""Makes the graph of some wires as they are before the work and as they are after.

It is laid out once; each picture shows what its loom has of it, so that both lie on the same coordinates.
"""

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

from planner.messages import tr
from planner.model.catalogue import Catalogue
from planner.model.elements import Source
from planner.model.loom import Loom, Wire, split_address
from planner.model.reach import gives_current
from planner.pictures.addresses import short_words
from planner.pictures.changes import changed_wires, leg_notes
from planner.pictures.graph import WHENS, Graph, Hook, Leg, Look, Outline, OutlineKind, Slot, When
from planner.pictures.insides import Drawn, inside_of, part_at
from planner.pictures.slots import slots_of

_KINDS: Mapping[str, OutlineKind] = {
    "joint": "joint",
    "earth": "earth",
    "feed": "feed",
    "loose": "loose",
    "unknown": "unknown",
}


@dataclass(frozen=True)
class Looms:
    """Both looms of one work: which places are swapped in it, and what people call its wires."""

    before: Loom
    after: Loom
    catalogue: Catalogue
    swapped: Collection[str]
    shown: Callable[[str], str]
    live_ends: Mapping[tuple[str, int], str] = field(default_factory=dict)  # tied back, each with its warning
    _slots: dict[str, tuple[Slot, ...]] = field(default_factory=dict, repr=False)

    def of(self, when: When) -> Loom:
        """One of the two."""
        return self.before if when == "before" else self.after

    @cached_property
    def changed(self) -> tuple[str, ...]:
        """The wires to which anything happens."""
        return changed_wires(self.before, self.after)

    def slots(self, place: str) -> tuple[Slot, ...]:
        """The slots of a swapped place."""
        if place not in self._slots:
            parts = (part_at(loom, self.catalogue, place) for loom in (self.before, self.after))
            self._slots[place] = slots_of(self.before, self.after, place, *parts)
        return self._slots[place]


def union_of(looms: Looms, wires: Collection[str], whole: Collection[str]) -> Graph:
    """The graph of some wires; swapped places named in ``whole`` show every terminal, bare ones too."""
    slots = {place: dict.fromkeys(looms.slots(place)) for place in whole}
    legs: dict[tuple[str, int, Hook, Hook], dict[When, Look]] = {}
    for when in WHENS:
        for wire in looms.of(when).wires:
            if wire.wire not in wires:
                continue
            hooks = [_hook(looms, when, wire, end, slots) for end in range(len(wire.ends))]
            for leg in range(len(hooks) - 1):
                notes = leg_notes(looms.before, looms.after, wire.wire, leg)
                words = (*(note.words(when) for note in notes), *_warnings(looms, wire.wire, leg, when))
                look = Look(wire.leg_colour(leg), wire.leg_mm2(leg), words)
                legs.setdefault((wire.wire, leg, hooks[leg], hooks[leg + 1]), {})[when] = look
    return Graph(
        tuple(_outline(looms, key, tuple(found), wires) for key, found in slots.items()),
        tuple(
            Leg(wire, leg, looms.shown(wire), (one, other), found.get("before"), found.get("after"))
            for (wire, leg, one, other), found in legs.items()
        ),
    )


def _warnings(looms: Looms, wire: str, leg: int, when: When) -> Iterator[str]:
    """Yield what must be known of the ends of a leg that are tied back."""
    ends = (leg, leg + 1) if when == "after" else ()
    yield from dict.fromkeys(looms.live_ends[wire, end] for end in ends if (wire, end) in looms.live_ends)


def _hook(looms: Looms, when: When, wire: Wire, end: int, slots: dict[str, dict[Slot, None]]) -> Hook:
    """Where an end is, its slot noted; every end at the body or nowhere has an outline of its own."""
    address = wire.ends[end].at
    head, tail = split_address(address)
    if head in _KINDS:
        key = address if head in ("joint", "feed") else f"{address}#{wire.wire}#{end}"
        slot = Slot("", "", "")
    else:
        key = head
        own = looms.slots(head) if head in looms.swapped else ()
        slot = next((s for s in own if s.mark(when) == tail), Slot(tail, tail, tail))
    slots.setdefault(key, {})[slot] = None
    return Hook(key, slot.key)


def _outline(looms: Looms, key: str, slots: tuple[Slot, ...], wires: Collection[str]) -> Outline:
    address = key.partition("#")[0]
    head = split_address(address)[0]
    is_swapped = address in looms.swapped
    words = short_words(looms.before, looms.after, address, looms.shown)
    insides = [
        inside_of(
            looms.of(when),
            looms.catalogue,
            address,
            Drawn(wires, {mark for slot in slots if (mark := slot.mark(when))}, is_swapped, words),
        )
        for when in WHENS
    ]
    ranks = {slot.key: rank for slot in slots if (rank := _rank(looms, address, slot)) is not None}
    old, new = insides
    if is_swapped:
        old = replace(old, fate=tr("this part comes out")) if old else None
        new = replace(new, fate=tr("new part")) if new else None
    parts = (part_at(looms.of(when), looms.catalogue, address) for when in WHENS)
    is_source = any(isinstance(element, Source) for part in parts if part for element in part.inside)
    return Outline(key, _KINDS.get(head, "part"), address, slots, old, new, ranks, is_swapped, is_source)


def _rank(looms: Looms, place: str, slot: Slot) -> float | None:
    """The rank of a terminal's role; one that gives current comes before any that takes it."""
    for when in ("after", "before"):
        mark = slot.mark(when)
        part = part_at(looms.of(when), looms.catalogue, place)
        terminal = part.terminals.get(mark) if part and mark else None
        role = looms.catalogue.roles.get(terminal.role) if terminal and terminal.role else None
        if part and mark and role:
            return role.rank - (100.0 if gives_current(part, looms.catalogue, mark) else 0.0)
    return None
