"""Which fuse guarded before what a fuse of a new part guards now: by the ends on it, not by its mark."""

from collections.abc import Iterator, Mapping

from planner.model.elements import Fuse
from planner.model.fitted_fuse import fuse_as_fitted, fused_side, rated_for_good
from planner.model.loom import Loom, split_address
from planner.model.part import Part
from planner.model.reach import joined_inside


def fuses_with_former(
    before: Loom, after: Loom, parts: Mapping[str, Part], place: str
) -> Iterator[tuple[str, Fuse, Fuse]]:
    """Yield each fuse of a place by its fused side, as it is and as it was for the ends that are on it now.

    Of several old ones the one that carries least. A fuse on which none of the old box's ends is guards
    nothing that another did.
    """
    if place not in before.places or place not in after.places:
        return
    was, now = parts[before.places[place].part], parts[after.places[place].part]
    old = {mark: fuse for fuse in _fuses(before, was, place) for mark in joined_inside(was, fuse.between[1])}
    for fuse in _fuses(after, now, place):
        former = [
            old[mark]
            for here in joined_inside(now, fuse.between[1])
            for wire, number in after.ends_at.get(f"{place}:{here}", ())
            if wire in before.wire_index and number < len(before.find(wire).ends)
            for there, mark in [split_address(before.find(wire).ends[number].at)]
            if there == place and mark in old
        ]
        if former:
            yield fused_side(place, fuse), fuse, min(former, key=lambda f: rated_for_good(f.amps, f.marked))


def _fuses(loom: Loom, part: Part, place: str) -> list[Fuse]:
    return [fuse_as_fitted(loom, place, element) for element in part.inside if isinstance(element, Fuse)]
