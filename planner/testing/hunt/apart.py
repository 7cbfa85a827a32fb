"""What tells suspects apart that are alike while all wires are on: a wire that is off at its ends."""

from collections.abc import Sequence

from planner.messages import tr
from planner.testing.hunt.hunt import Suspect
from planner.testing.hunt.vehicle import Vehicle


def apart(vehicle: Vehicle, alike: Sequence[Suspect]) -> str:
    """A reading with something taken off that decides about one suspect; else why there is none.

    A wire that is bare somewhere keeps its short when it is off at all its ends, and no other does.
    """
    for suspect in alike:
        for change in vehicle.worlds[suspect.world].changes:
            for name in (gated.branch.name for gated in change.added):
                if name[0] == "short" and len(name) == 3:
                    return tr(
                        "To tell: battery off, take {wire} off at all its ends, and read ohms from it to the "
                        "body. Joined, it is that wire; open, it is one of the others.",
                        wire=vehicle.wired.wire(name[1]),
                    )
                if name[0] == "chafed":
                    return tr(
                        "To tell: battery off, take {wire} off at all its ends, and read ohms from it to "
                        "{other}. Joined, these two touch; open, it is one of the others.",
                        wire=vehicle.wired.wire(name[1]),
                        other=vehicle.wired.wire(name[2]),
                    )
    return tr("They do the same wherever a meter goes: look at each of these places, the likeliest first.")


def at_other_ends(vehicle: Vehicle, suspect: Suspect) -> str:
    """Where two wires that are found to be traded may be traded instead; empty if nowhere.

    Two wires of one leg each do the same whether their ends are exchanged here or there.
    """
    moved = [end for change in vehicle.worlds[suspect.world].changes for end in change.ends]
    loom = vehicle.wired.loom
    if len(suspect.mistakes) != 1 or len(moved) != 2 or moved[0].wire == moved[1].wire:
        return ""
    wires = [loom.find(end.wire) for end in moved]
    if any(len(wire.ends) != 2 for wire in wires):
        return ""
    own = [wire.ends[end.end].at for wire, end in zip(wires, moved, strict=True)]
    far = [wire.ends[1 - end.end].at for wire, end in zip(wires, moved, strict=True)]
    is_trade = [end.at for end in moved] == own[::-1]
    if not is_trade or {"loose", "unknown"} & set(far) or far[0] == far[1]:
        return ""
    return tr(
        "If both are right there, they are traded at their other ends, which no reading tells apart: {one} "
        "and {other}.",
        one=vehicle.wired.at(far[0]),
        other=vehicle.wired.at(far[1]),
    )
