"""Piggybacks that were there before the work: which come off with a part, on which a blade is left free."""

from collections.abc import Mapping

from planner.model.delta import Remove
from planner.model.loom import split_address
from planner.workshop.ends.names import Names
from planner.workshop.tasks.task import takes_off


def come_off_with(names: Names, remove: Remove) -> tuple[str, ...]:
    """The terminals whose piggyback comes off with a part and goes on nothing any more."""
    here = (at for at in names.before.piggybacks if split_address(at)[0] == remove.at)
    return tuple(at for at in here if at not in names.after.piggybacks)


def blades_left_free(names: Names) -> Mapping[int, str]:
    """The terminals whose piggyback has a free blade in the end, by the step that takes its end off."""
    found: dict[int, str] = {}
    for at in names.before.piggybacks:
        gone = set(names.before.ends_at[at]) - set(names.after.ends_at.get(at, ()))
        if at not in names.after.piggybacks or len(names.after.ends_at.get(at, ())) >= len(
            names.before.ends_at[at]
        ):
            continue
        for wire, end in sorted(gone):
            numbers = (n for n, task in enumerate(names.ordered, 1) if takes_off(task, wire, end, at))
            if (first := next(numbers, None)) is not None:
                found[first] = at
    return found
