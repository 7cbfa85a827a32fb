"""A settled plan without one of its swaps, made by leaving its steps out: nothing is asked again."""

from collections.abc import Hashable, Iterator, Sequence

from planner.model.delta import Add, Fit, Insert, Join, Operation, Piggyback, Remove, Step
from planner.model.loom import Wire, split_address


def steps_without(steps: Sequence[Step], place: str, swapped: frozenset[str]) -> list[Step] | None:
    """The steps that do not concern a place; None if that cannot be told step by step.

    It cannot if a step that concerns it concerns another swapped place too, or a joiner, which may have been
    fitted for its wire alone.

    With a step goes what later steps do with the wires and parts that it brought, and with the ends
    that it worked on; a part that the plan added, once a wire to it is left out; and a piggyback that was
    fitted for such a wire.
    """
    operations = [step.operation for step in steps]
    added = {o.at for o in operations if isinstance(o, Fit | Insert)} - swapped
    out = {place}
    while True:
        dropped = _dropped(operations, out)
        touched = frozenset().union(*(_places(operations[number]) for number in dropped))
        if (touched & added) <= out:
            break
        out |= touched & added
    joints = any(a.startswith("joint:") for number in dropped for a in operations[number].addresses)
    if (touched & swapped) - {place} or joints:
        return None
    ends = (o.wire.ends for number in dropped if isinstance(o := operations[number], Add))
    taps = {end.at for pair in ends for end in pair}
    return [
        step
        for number, step in enumerate(steps)
        if number not in dropped
        if not (isinstance(step.operation, Piggyback) and step.operation.at in taps)
    ]


def steps_without_wire(steps: Sequence[Step], wire: Wire) -> list[Step] | None:
    """The steps without those for a new wire; None if a step joins it with others."""
    operations = [step.operation for step in steps]
    if any(wire.wire in {name for name, _, _ in o.ends} for o in operations if isinstance(o, Join)):
        return None
    dropped = _dropped(operations, {wire.wire})
    kept = [o for number, o in enumerate(operations) if number not in dropped]
    wanted = {end.at for o in kept if isinstance(o, Add) for end in o.wire.ends}
    taps = {end.at for end in wire.ends} - wanted
    return [
        step
        for number, step in enumerate(steps)
        if number not in dropped
        if not (isinstance(step.operation, Piggyback) and step.operation.at in taps)
    ]


def _dropped(operations: Sequence[Operation], places: set[str]) -> frozenset[int]:
    """The numbers of the operations that concern some places, or what an operation before them left out."""
    gone: set[Hashable] = {*places}
    dropped = []
    for number, operation in enumerate(operations):
        things = set(_things(operation))
        if not things.isdisjoint(gone):
            dropped.append(number)
            gone |= {*_brought(operation), *(thing for thing in things if isinstance(thing, tuple))}
    return frozenset(dropped)


def _things(operation: Operation) -> Iterator[Hashable]:
    """Yield what an operation works on: places and wires by name, ends as (wire, number)."""
    yield from _places(operation)
    if isinstance(operation, Remove | Join):
        yield from ((wire, number) for wire, number, _ in operation.ends)
        return
    wire = getattr(operation, "wire", None)
    if isinstance(wire, Wire):
        yield wire.wire
    elif wire is not None:
        yield wire
        number = getattr(operation, "end", None)
        if number is not None:
            yield wire, number


def _brought(operation: Operation) -> Iterator[Hashable]:
    """Yield what is there only because of an operation, by name."""
    if isinstance(operation, Add):
        yield operation.wire.wire
    if isinstance(operation, Insert):
        yield from (operation.at, operation.lead.wire)


def _places(operation: Operation) -> frozenset[str]:
    return frozenset(split_address(address)[0] for address in operation.addresses)
