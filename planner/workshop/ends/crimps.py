"""The terminals that are crimped on: what goes into each, of which size it has to be, whether it gets wet.

In the middle of a chain both legs of a wire go into one terminal, so that has to be for both areas together
(common practice, no source); the sizes are those in which wire is sold, by IEC 60228.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from planner.messages import later, tr
from planner.model.conductors import SECOND
from planner.model.delta import Cut, ReEnd
from planner.model.joiners import STUD_RING, stud_mm2
from planner.model.routes import zone_of
from planner.workshop.ends.names import Names
from planner.workshop.tasks.task import Task

SLEEVED = ("blade", "bullet")  # ends that get an insulating sleeve; rings and bare ends do not
RINGS = ("ring", "stud")
PLAIN = ("bare", "screw", "soldered")  # ends that nothing is crimped on
_TERMINALS: Mapping[str, str] = {
    "blade": later("push-on terminal, {size} mm"),
    "ring": later("ring, M{size}"),
    "stud": later("ring, M{size}"),
    "bullet": later("bullet"),
    "contact": later("crimped contact, to suit its housing"),
    "": later("terminal to suit what it goes on"),
}


@dataclass(frozen=True, slots=True)
class Crimp:
    """A terminal that a step puts on: ``mm2`` is of every wire that goes into it."""

    step: int
    at: str
    fitting: str | None
    mm2: tuple[float, ...]

    @property
    def is_crimped(self) -> bool:
        """Whether there is anything to crimp: nobody crimps a bare end; what is not known has to suit."""
        return self.fitting not in PLAIN

    @property
    def is_sleeved(self) -> bool:
        """Whether an insulating sleeve goes over it."""
        return (self.fitting or "").startswith(SLEEVED)


def is_wet(names: Names, address: str) -> bool:
    """Whether what is made at an address gets wet."""
    name = zone_of(names.after, address) or zone_of(names.before, address) or ""
    zone = names.after.zones.get(name) or names.before.zones.get(name)
    return zone is not None and zone.wet


def old_wires_crimps(names: Names, steps: Sequence[tuple[int, Task]]) -> Iterator[Crimp]:
    """Yield the terminals that go on wires that are there: new ones, and rings where a chain is cut."""
    for number, task in steps:
        operation = task.operation
        if isinstance(operation, ReEnd):
            areas = names.wire(operation.wire).areas_at(operation.end)
            for in_one in [(mm2,) for mm2 in areas] if is_on_stud(names, operation) else [areas]:
                yield Crimp(number, operation.at, operation.fitting, in_one)
        elif isinstance(operation, Cut) and stud_mm2(names.after, operation.joint):
            for mm2 in names.after.find(operation.wire).areas_at(operation.end):
                yield Crimp(number, operation.joint, STUD_RING, (mm2,))


def is_on_stud(names: Names, operation: ReEnd) -> bool:
    """Whether an end gets its new terminal for a stud that joins: there each of its wires has a ring."""
    return operation.fitting == STUD_RING and operation.at in names.joiners


def re_ends(names: Names, wire: str, end: int) -> bool:
    """Whether a step of its own gives an end its new terminal."""
    return any(
        isinstance(o, ReEnd) and (o.wire, o.end) == (wire, end) for o in (t.operation for t in names.ordered)
    )


def fitting_like_the_old(names: Names, wire: str, end: int) -> str | None:
    """The fitting of an end that is lengthened and gets no other one: its own, or that of where it was."""
    was = names.before.end_address(wire, end)
    return names.wire(wire).ends[end].fitting or (names.usual_end(was, names.before) if was else None)


def crimp_mm2(names: Names, mm2: Sequence[float]) -> float:
    """The size of wire that a terminal has to be for: the next that is sold and holds all areas together."""
    if len(mm2) == 1:
        return mm2[0]
    sold = (row.mm2 for row in names.catalogue.standards.conductors if row.standard == SECOND)
    return min((size for size in sold if size >= sum(mm2)), default=sum(mm2))


def crimp_words(names: Names, crimp: Crimp) -> str:
    """A terminal as a shop knows it, with its size: ``push-on terminal, 6.3 mm, for 1.5 mm2 (AWG 14)``."""
    terminal = terminal_words(crimp.fitting or "")
    size = names.size(crimp_mm2(names, crimp.mm2))
    if len(crimp.mm2) == 1:
        return tr("{terminal}, for {size}", terminal=terminal, size=size)
    return tr(
        "{terminal}, for {size}: {wires} in one crimp",
        terminal=terminal,
        size=size,
        wires=areas_words(crimp.mm2),
    )


def areas_words(mm2: Sequence[float]) -> str:
    """Two wires that go into one terminal: ``6 mm2 + 4 mm2``."""
    return " + ".join(tr("{mm2:g} mm2", mm2=area) for area in mm2)


def terminal_words(fitting: str) -> str:
    """A terminal as a shop knows it: ``push-on terminal, 6.3 mm``."""
    kind, _, size = fitting.partition("-")
    return tr(_TERMINALS.get(kind, kind)).format(size=size)
