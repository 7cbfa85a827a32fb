"""The joiners that a work needs: made for several wires, crimped ones in a wire, on the leads of a part."""

from collections.abc import Iterator, Sequence

from planner.messages import tr
from planner.model.bench_sheet import Material
from planner.model.delta import Cut
from planner.model.job import StockThing
from planner.model.joiners import stud_mm2
from planner.workshop.ends.crimps import is_wet
from planner.workshop.ends.names import Names
from planner.workshop.materials.pieces import Piece
from planner.workshop.materials.shelf import Shelf
from planner.workshop.tasks.task import Task


def joiners_needed(
    names: Names, steps: Sequence[tuple[int, Task]], made: Sequence[Piece], shelf: Shelf
) -> Iterator[Material]:
    """Yield joiners by the wires they take; one is needed at the first step that puts an end into it."""
    studs: dict[tuple[int, float], list[int]] = {}
    joiners: dict[tuple[int, bool], list[int]] = {}
    crimped: dict[tuple[int, bool], list[int]] = {}
    for number, task in steps:
        if isinstance(task.operation, Cut):
            joint = task.operation.joint
            if mm2 := stud_mm2(names.after, joint):
                studs.setdefault((2, mm2), []).append(number)
            else:
                crimped.setdefault((2, is_wet(names, joint)), []).append(number)
        for joint in names.leads_joined.get(number, ()):
            ends = names.after.ends_at[joint]  # in the middle of a chain an end is two wires
            ways = 1 + sum(len(names.after.find(wire).areas_at(end)) for wire, end in ends)
            crimped.setdefault((ways, is_wet(names, joint)), []).append(number)
    for piece in made:
        if piece.longer_at:
            crimped.setdefault((2, is_wet(names, piece.longer_at)), []).append(piece.step)
    for at, joiner in names.joiners.items():
        if joiner.stud_mm2:
            studs.setdefault((joiner.ways, joiner.stud_mm2), []).append(joiner.steps[0])
        else:
            joiners.setdefault((joiner.ways, is_wet(names, at)), []).append(joiner.steps[0])
    for (ways, wet), uses in sorted(joiners.items()):
        what = tr("sealed joiner for {ways} wires") if wet else tr("insulated joiner for {ways} wires")
        yield _line(what.format(ways=ways), uses, ways, wet, shelf)
    for (ways, mm2), uses in sorted(studs.items()):
        what = tr("M6 stud under a cover, for {ways} rings, up to {mm2:g} mm2", ways=ways, mm2=mm2)
        note = tr("with its nut, a spring washer and a screw for its foot")
        yield Material("joiner", what, "pieces", shelf.uses(uses, None), note)
    for (ways, wet), uses in sorted(crimped.items()):
        if uses:
            what = (
                tr("sealed joiner for {ways} wires, crimped, with glue inside")
                if wet
                else tr("insulated joiner for {ways} wires, crimped")
            )
            yield _line(what.format(ways=ways), uses, ways, wet, shelf)


def _line(what: str, uses: Sequence[int], ways: int, wet: bool, shelf: Shelf) -> Material:
    """One line; what lies on the bench is not sealed, as far as anybody has said."""
    wanted = None if wet else StockThing(kind="joiner", ways=ways)
    return Material("joiner", what, "pieces", shelf.uses(uses, wanted))
