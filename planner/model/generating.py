"""Which windings generate while another one runs: those on one shaft, and those that share a brush."""

from collections.abc import Iterator

from planner.model.elements import Cam, Winding
from planner.model.part import Part


def turned_by_another(part: Part) -> Iterator[tuple[Winding, Winding, frozenset[str]]]:
    """Yield a winding, another that turns it when it runs, and the terminals where it generates then."""
    windings = [element for element in part.inside if isinstance(element, Winding)]
    cams = [element for element in part.inside if isinstance(element, Cam)]
    for own in windings:
        for other in windings:
            if own is other:
                continue
            shared = set(own.between) & set(other.between)
            on_shaft = any({own.does, other.does} <= set(cam.turned_by) for cam in cams)
            if shared or on_shaft:
                yield own, other, frozenset(set(own.between) - shared)
