"""A settled plan without one of its swaps, made by leaving its steps out: nothing is asked again."""

from collections.abc import Sequence

from planner.model.delta import Add, Operation, Piggyback, Step
from planner.model.loom import split_address


def steps_without(steps: Sequence[Step], place: str, swapped: frozenset[str]) -> list[Step] | None:
    """The steps that do not concern a place; None if one that does concerns another swapped place too.

    A piggyback that was fitted for a wire to the place goes with the wire.
    """
    left = [step for step in steps if place not in _places(step.operation)]
    dropped = [step.operation for step in steps if place in _places(step.operation)]
    if any((_places(operation) & swapped) - {place} for operation in dropped):
        return None
    taps = {end.at for operation in dropped if isinstance(operation, Add) for end in operation.wire.ends}
    return [
        step for step in left if not (isinstance(step.operation, Piggyback) and step.operation.at in taps)
    ]


def _places(operation: Operation) -> frozenset[str]:
    return frozenset(split_address(address)[0] for address in operation.addresses)
