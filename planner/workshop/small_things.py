"""What is needed besides wire and terminals: piggybacks, sleeves, caps, joiners, fuses, a draw cord."""

from collections.abc import Iterator, Sequence

from planner.messages import tr
from planner.model.bench_sheet import Material, Use
from planner.model.delta import ChangeFuse, Cover, Cut, Fit, Piggyback, ReEnd
from planner.model.job import StockThing
from planner.model.joiners import stud_mm2
from planner.workshop.made_wires import SLEEVED, Piece
from planner.workshop.names import Names
from planner.workshop.notes import fuses_left
from planner.workshop.shelf import Shelf
from planner.workshop.task import Task, is_pull

CORD_METRES = 1.0  # more than the wire behind trim, to hold on to at both ends; common practice, no source


def small_things(
    names: Names, steps: Sequence[tuple[int, Task]], made: Sequence[Piece], shelf: Shelf
) -> Iterator[Material]:
    """Yield piggybacks, sleeves, caps, joiners, fuses and cord."""
    tabs: dict[str, list[int]] = {}
    sleeves = [n for piece in made if not piece.from_stock for n in piece.sleeved_at]
    caps: list[int] = []
    fuses: dict[float, list[int]] = {}
    own: dict[tuple[float, str], list[int]] = {}  # those that a new part takes, by what is printed on them
    cord: list[Use] = []
    for number, task in steps:
        operation = task.operation
        if isinstance(operation, Piggyback):
            tabs.setdefault(names.usual_end(operation.at) or "", []).append(number)
        elif isinstance(operation, ReEnd) and operation.fitting.startswith(SLEEVED):
            sleeves.append(number)
        elif isinstance(operation, Cover):
            caps.append(number)
        elif isinstance(operation, ChangeFuse):
            fuses.setdefault(operation.amps, []).append(number)
        elif isinstance(operation, Fit):
            for fuse in fuses_left(names, operation.at, operation.place):
                own.setdefault((fuse.amps, fuse.marked), []).append(number)
        elif is_pull(task, [other for _, other in steps]):
            cord.append(Use(number, next(p.metres for p in made if p.step == number) + CORD_METRES))
    for fitting, uses in sorted(tabs.items(), key=lambda item: _tab(item[0])):
        wanted = StockThing(kind="piggyback", fitting=fitting) if fitting else None
        what = tr("piggyback push-on terminal, {size}", size=_tab(fitting))
        yield Material("piggyback", what, "pieces", shelf.uses(uses, wanted))
    if sleeves:
        what = tr("insulating sleeve for a terminal")
        yield Material("sleeve", what, "pieces", shelf.uses(sleeves, StockThing(kind="sleeve")))
    if caps:
        what = tr("insulating cap or sleeve, with a tie")
        uses_of_caps = shelf.uses(caps, StockThing(kind="cap"))
        yield Material("cap", what, "pieces", uses_of_caps, tr("for ends and terminals covered"))
    yield from _joiners(names, steps, made, shelf)
    for amps, uses in sorted(fuses.items()):
        wanted = StockThing(kind="fuse", amps=amps)
        yield Material(
            "fuse", tr("fuse, {amps:g} A continuous", amps=amps), "pieces", shelf.uses(uses, wanted)
        )
    for (amps, marked), uses in sorted(own.items()):
        is_blowing = marked == "blowing"
        wanted = None if is_blowing else StockThing(kind="fuse", amps=amps)
        what = tr("fuse, {amps:g} A blowing") if is_blowing else tr("fuse, {amps:g} A continuous")
        note = tr("of the new part, which may come with it")
        yield Material("fuse", what.format(amps=amps), "pieces", shelf.uses(uses, wanted), note)
    if cord:
        yield Material("cord", tr("draw cord"), "m", tuple(cord))


def _joiners(
    names: Names, steps: Sequence[tuple[int, Task]], made: Sequence[Piece], shelf: Shelf
) -> Iterator[Material]:
    """Yield joiners by the wires they take; one is needed at the first step that puts an end into it."""
    first: dict[tuple[int, float], list[int]] = {}
    cuts: list[int] = []
    for number, task in steps:
        if isinstance(task.operation, Cut):
            mm2 = stud_mm2(names.after, task.operation.joint)
            (first.setdefault((2, mm2), []) if mm2 else cuts).append(number)
    for joiner in names.joiners.values():
        first.setdefault((joiner.ways, joiner.stud_mm2 or 0.0), []).append(joiner.steps[0])
    for (ways, mm2), uses in sorted(first.items()):
        wanted = None if mm2 else StockThing(kind="joiner", ways=ways)
        what = tr("insulated joiner for {ways} wires", ways=ways)
        if mm2:
            what = tr("M6 stud under a cover, for {ways} rings, up to {mm2:g} mm2", ways=ways, mm2=mm2)
        yield Material("joiner", what, "pieces", shelf.uses(uses, wanted))
    splices = [*cuts, *(piece.step for piece in made for _ in range(piece.joiners))]
    if splices:
        wanted = StockThing(kind="joiner", ways=2)
        what = tr("insulated joiner for 2 wires, crimped")
        yield Material("joiner", what, "pieces", shelf.uses(splices, wanted))


def _tab(fitting: str) -> str:
    """The size of the tab that a piggyback goes on."""
    kind, _, size = fitting.partition("-")
    return tr("{size} mm", size=size) if kind == "blade" else tr("to suit")
