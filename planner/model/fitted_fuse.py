"""A fuse as it is in one loom: what somebody put in outranks what the part came with."""

from planner.model.elements import Fuse
from planner.model.loom import Loom


def fused_side(place: str, fuse: Fuse) -> str:
    """The address by which a fuse is named: its second terminal, where it is fused."""
    return f"{place}:{fuse.between[1]}"


def fuse_as_fitted(loom: Loom, place: str, fuse: Fuse) -> Fuse:
    """The fuse of a part at a place, with the amps that the loom says were put in."""
    amps = loom.fuses.get(fused_side(place, fuse))
    return fuse if amps is None else fuse.model_copy(update={"amps": amps, "marked": "continuous"})
