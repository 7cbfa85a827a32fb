"""A part exchanged for another that takes its wires, where the fitted one does not suit."""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.suiting import parts_of
from planner.model.delta import Fit, Move, Operation, Remove
from planner.model.part import Part, Terminal
from planner.model.purpose import kind_of


def parts_that_take_the_wires(case: Case, place: str) -> Iterator[tuple[Part, tuple[Operation, ...]]]:
    """Yield the other parts of a fitted part's kind that can stand in its place, each with what is done.

    Not where the job itself says what is fitted: that is not for a rule to overrule.
    """
    fitted = case.part(place)
    if fitted is None or case.is_swapped(place):
        return
    for part in parts_of(case, fitted.family):
        operations = exchange(case, place, part)
        if part.part != fitted.part and kind_of(part) == kind_of(fitted) and operations:
            yield part, operations


def exchange(case: Case, place: str, part: Part) -> tuple[Operation, ...]:
    """Take a part out and put another in its place, every end on the terminal that does the same.

    Empty if an end finds no such terminal with a like fitting, or a terminal would lack what it needs.
    """
    there, old = case.loom.places[place], case.part(place)
    ends = tuple(case.loom.ends_of_place(place))
    if old is None:
        return ()
    operations: list[Operation] = [
        Remove(place, there, ends, _own(case.loom.piggybacks, place), _own(case.loom.covered, place)),
        Fit(place, case.with_part(place, part)),
    ]
    taken: dict[str, int] = {}
    for wire, number, mark in ends:
        to = _counterpart(old.terminals[mark], mark, part)
        if to is None or taken.get(to, 0) >= part.terminals[to].holds:
            return ()
        taken[to] = taken.get(to, 0) + 1
        was = f"{place}:{mark}"
        if wire in case.before.wire_index:
            was = case.before.find(wire).ends[number].at
        operations.append(Move(wire, number, was, f"{place}:{to}", "loose"))
    for mark, terminal in part.terminals.items():
        earthed = terminal.by == "mounting" and there.mounting == "metal"
        if mark not in taken and not earthed and not _may_stay_bare(case, terminal):
            return ()
    return tuple(operations)


def _own(addresses: tuple[str, ...], place: str) -> tuple[str, ...]:
    return tuple(address for address in addresses if address.startswith(f"{place}:"))


def _counterpart(terminal: Terminal, mark: str, part: Part) -> str | None:
    """The terminal that an end goes on: of its mark and role, else the only one of its role."""
    alike = [m for m, t in part.terminals.items() if t.role == terminal.role and t.takes(terminal.usual_end)]
    return mark if mark in alike else alike[0] if len(alike) == 1 else None


def _may_stay_bare(case: Case, terminal: Terminal) -> bool:
    role = case.role_of(terminal.role)
    return (terminal.wants or (role.wants if role else "nothing")) == "nothing"
