"""Which wires are drawn in one picture: those of a swapped place, and of others that hang together with it.

A picture has to fit a page; one that does not is made smaller by ``smaller``.
"""

from collections.abc import Collection
from dataclasses import dataclass, replace

from planner.pictures.graph import WHENS
from planner.pictures.union import Looms

_MOST_WIRES = 14  # of places that are drawn together


@dataclass(frozen=True, slots=True)
class Extent:
    """The places and wires of one picture."""

    places: tuple[str, ...]  # swapped ones, which it is about
    wires: tuple[str, ...]
    beyond_joiners: bool = True
    piece: tuple[int, ...] = ()  # where the wires are too many for a page: which half, and which half of that


def extents(looms: Looms) -> list[Extent]:
    """One picture a swapped place; places that share wires are one picture while it is small."""
    found = [Extent((place,), _wires(looms, place, beyond_joiners=True)) for place in looms.swapped]
    covered = {wire for extent in found for wire in extent.wires}
    for wire in looms.changed:
        if wire not in covered:
            _put(looms, found, wire)
    return _merged(found)


def smaller(looms: Looms, extent: Extent, elsewhere: Collection[str]) -> list[Extent]:
    """The extent as several, or with less around it; itself if there is no way to make it smaller.

    ``elsewhere`` are the wires that other pictures show.
    """
    if len(extent.places) > 1:
        half = (len(extent.places) + 1) // 2
        halves = extent.places[:half], extent.places[half:]
        own = [
            {wire for place in places for wire in _wires(looms, place, beyond_joiners=True)}
            for places in halves
        ]
        own[0] |= set(extent.wires) - own[0] - own[1]  # what changes elsewhere stays with the first
        # Where all wires are on one half, both would show them: that makes nothing smaller.
        if not any(set(extent.wires) <= wires for wires in own):
            return [
                Extent(places, tuple(wire for wire in extent.wires if wire in wires))
                for places, wires in zip(halves, own, strict=True)
            ]
    if extent.beyond_joiners and extent.places:
        near = {*looms.changed}
        for place in extent.places:
            near |= {*_wires(looms, place, beyond_joiners=False)}
        kept = tuple(wire for wire in extent.wires if wire in near)
        if kept != extent.wires:
            return [replace(extent, wires=kept, beyond_joiners=False)]
    only = tuple(wire for wire in extent.wires if wire not in elsewhere)
    if only and only != extent.wires:
        return [replace(extent, wires=only, beyond_joiners=False)]
    if len(extent.wires) == 1:
        return [extent]
    ordered, half = _by_terminal(looms, extent), (len(extent.wires) + 1) // 2
    return [
        replace(extent, wires=wires, beyond_joiners=False, piece=(*extent.piece, n))
        for n, wires in enumerate((ordered[:half], ordered[half:]))
    ]


def without_repeats(found: Collection[Extent]) -> list[tuple[Extent, Extent]]:
    """The extents whose wires no other shows, with the places they show for others, and as they were."""
    kept: list[tuple[Extent, Extent]] = []
    for extent in sorted(found, key=lambda extent: -len(extent.wires)):
        for number, (other, origin) in enumerate(kept):
            if extent.wires and set(extent.wires) <= set(other.wires):
                places = tuple(dict.fromkeys((*other.places, *extent.places)))
                kept[number] = replace(other, places=places), origin
                break
        else:
            kept.append((extent, extent))
    order = list(found)
    return sorted(kept, key=lambda pair: order.index(pair[1]))


def _wires(looms: Looms, place: str, *, beyond_joiners: bool) -> tuple[str, ...]:
    """The wires with an end at a place before or after, and what joiners join to them."""
    found: dict[str, None] = {}
    for when in WHENS:
        loom = looms.of(when)
        seen: set[str] = set()
        queue = [wire for wire, _, _ in loom.ends_of_place(place)]
        while queue:
            wire = queue.pop(0)
            if wire in seen:
                continue
            seen.add(wire)
            for end in loom.find(wire).ends if beyond_joiners else ():
                if end.at.startswith("joint:"):
                    queue += [other for other, _ in loom.ends_at[end.at]]
        found |= dict.fromkeys(wire.wire for wire in loom.wires if wire.wire in seen)
    return tuple(found)


def _put(looms: Looms, found: list[Extent], wire: str) -> None:
    """Draw a wire with the places it shares most ends with; on its own if it shares none."""
    near = [len(_touched(looms, extent.wires) & _touched(looms, (wire,))) for extent in found]
    if max(near, default=0) == 0:
        found.append(Extent((), (wire,)))
    else:
        number = near.index(max(near))
        found[number] = replace(found[number], wires=(*found[number].wires, wire))


def _touched(looms: Looms, wires: Collection[str]) -> set[str]:
    """Places, joiners and feeds at which the wires have an end in either loom."""
    ends = (
        end.at
        for loom in (looms.before, looms.after)
        for wire in wires
        if wire in loom.wire_index
        for end in loom.find(wire).ends
    )
    touched = (at if at.startswith(("joint:", "feed:")) else at.partition(":")[0] for at in ends)
    return {place for place in touched if place not in ("earth", "loose", "unknown")}


def _merged(found: list[Extent]) -> list[Extent]:
    """Extents with common wires made one, those with most in common first, as long as they stay small."""
    while True:
        best: tuple[int, int, int] | None = None
        for one, first in enumerate(found):
            for other in range(one + 1, len(found)):
                common = len(set(first.wires) & set(found[other].wires))
                together = len({*first.wires, *found[other].wires})
                if common and together <= _MOST_WIRES and (best is None or common > best[0]):
                    best = common, one, other
        if best is None:
            return found
        _, one, other = best
        first, second = found[one], found.pop(other)
        wires = tuple(dict.fromkeys((*first.wires, *second.wires)))
        found[one] = Extent((*first.places, *second.places), wires)


def _by_terminal(looms: Looms, extent: Extent) -> tuple[str, ...]:
    """The wires in the order of the terminals that they are on at the first place; those not on it last."""
    if not extent.places:
        return extent.wires
    place = extent.places[0]
    order = {slot.mark(when): n for n, slot in enumerate(looms.slots(place)) for when in WHENS}
    at = {wire: order.get(mark, 0) for when in WHENS for wire, _, mark in looms.of(when).ends_of_place(place)}
    return tuple(sorted(extent.wires, key=lambda wire: at.get(wire, len(order))))
