"""Whether a wire that is tied back can still be live: in some position something feeds it, or in none."""

from planner.model.catalogue import Catalogue
from planner.model.elements import Resistor, Source
from planner.model.loom import Loom, split_address
from planner.model.part import Part
from planner.model.reach import conductor


def may_be_live(loom: Loom, catalogue: Catalogue, wire: str) -> bool:
    """Whether a feed, a source or an end that nobody knows can be reached from a wire; loads are not crossed.

    Every contact counts as closed, both ways, so a wire is called dead only if no position can feed it.
    """
    seen: set[str] = set()
    queue = [end.at for end in loom.find(wire).ends]
    while queue:
        here = queue.pop()
        place, mark = split_address(here)
        if here in seen or place in ("loose", "earth"):
            continue
        seen.add(here)
        if place in ("feed", "unknown"):
            return True
        queue += conductor(loom, here)
        if place == "joint":
            continue
        fitted = loom.places.get(place)
        part = catalogue.parts.get(fitted.part) if fitted else None
        if part is None or any(isinstance(e, Source) and mark == e.between[0] for e in part.inside):
            return True
        queue += [f"{place}:{node}" for node in _joined(part, mark)]
    return False


def _joined(part: Part, mark: str) -> list[str]:
    """What a contact, fuse, flasher, diode, stabiliser or series resistor joins a node to."""
    joints = [*part.joints.get(mark, ())]
    joints += [e.between for e in part.inside if isinstance(e, Resistor) and not e.does and mark in e.between]
    return [node for nodes in joints for node in nodes]
