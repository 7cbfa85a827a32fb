"""A new part under the names of the old one's controls and positions: everything that is told goes by these.

Which control is which is matched first; then a position that the new part lacks, but does under another label
of the same control, is that position: "on" of a fan switch is "fast" of the one that has slow as well.
Under no pairing of positions can a loss be hidden, for each position of the old part is compared with one
that the new part has.
"""

from collections.abc import Mapping
from functools import lru_cache

from planner.model.done_together import done_together
from planner.model.loom import Place
from planner.model.paired_positions import positions_of, shared_labels
from planner.model.part import Part
from planner.model.same_variables import match_variables


def exchanged(place: Place, old: Part, new: Part) -> Place:
    """A place with the new part in it, whose controls and positions go by the old part's names."""
    return place.calling(called_as(old, new), meanings_as(old, new))


def called_as(old: Part, new: Part) -> dict[str, str]:
    """What to call each variable of a new part whose own name would not do where the old part was.

    A variable that both have goes by its old name; one whose name the old part uses for something else is
    called so that it cannot be mistaken for that.
    """
    names = match_variables(old, new).names
    called = {theirs: ours for ours, theirs in names.items() if ours != theirs}
    for name in new.variables:
        if name in old.variables and name not in names.values():
            called[name] = f"{name} of the new part"
    return called


@lru_cache(maxsize=256)  # every way to exchange one part asks again
def meanings_as(old: Part, new: Part) -> Mapping[tuple[str, str], str]:
    """What a position of the new part means that does, alone, what the old part did under another label.

    By the new part's name of the control, and its label there. A position that both parts have, by label or
    by meaning, keeps its own.
    """
    names = match_variables(old, new).names
    found: dict[tuple[str, str], str] = {}
    for name, label, way in done_together(old, new, names):
        other = names.get(name)
        if other is None or way.keys() != {other}:
            continue
        kept = {theirs for _, theirs in shared_labels(old, new, name, other)}
        if way[other] not in kept and (other, way[other]) not in found:
            found[other, way[other]] = dict(positions_of(old, name))[label]
    return found
