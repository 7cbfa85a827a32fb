"""A fuse as it is in one loom: what somebody put in outranks what the part came with."""

from collections.abc import Mapping

from planner.messages import tr
from planner.model.elements import Fuse
from planner.model.fuses import Marked
from planner.model.loom import Loom, split_address
from planner.model.part import Part

# A fuse is to carry 80 % of its rating for good, and while something is held no more than its rating: what is
# held for a moment asks of it what this share of the amps would for good.
AT_ITS_RATING = 0.8


def fused_side(place: str, fuse: Fuse) -> str:
    """The address by which a fuse is named: its second terminal, where it is fused."""
    return f"{place}:{fuse.between[1]}"


def fuse_as_fitted(loom: Loom, place: str, fuse: Fuse) -> Fuse:
    """The fuse of a part at a place, with the amps that the loom says were put in."""
    amps = loom.fuses.get(fused_side(place, fuse))
    return fuse if amps is None else fuse.model_copy(update={"amps": amps, "marked": "continuous"})


def rated_for_good(amps: float, marked: Marked) -> float:
    """What a fuse marked with some amps is rated for good, in A: of a blowing current half."""
    return amps / 2 if marked == "blowing" else amps


def fuse_words(amps: float, marked: Marked) -> str:
    """The amps that are printed on a fuse, with what they mean where that is not what it carries for good."""
    return (tr("{amps:g} A blowing") if marked == "blowing" else tr("{amps:g} A")).format(amps=amps)


def fuse_words_at(loom: Loom, parts: Mapping[str, Part], address: str, amps: float) -> str:
    """The amps that are printed on the fuse that sits, or sat, at an address in a loom."""
    place = split_address(address)[0]
    fitted = loom.places.get(place)
    for element in parts[fitted.part].inside if fitted else ():
        if isinstance(element, Fuse) and fused_side(place, element) == address:
            return fuse_words(amps, fuse_as_fitted(loom, place, element).marked)
    return fuse_words(amps, "continuous")
