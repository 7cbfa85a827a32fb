"""What is needed besides wire, terminals and joiners: sleeves, caps, fuses, clips, a draw cord."""

from collections.abc import Iterator, Sequence

from planner.messages import tr
from planner.model.bench_sheet import Material, Use
from planner.model.delta import ChangeFuse, Cover, Fit, Hold, Insert, Piggyback, Remove, Renew
from planner.model.job import StockThing
from planner.model.routes import zones_on_the_way
from planner.workshop.ends.crimps import Crimp, is_wet
from planner.workshop.ends.later import joined_later
from planner.workshop.ends.meanwhile import off_meanwhile
from planner.workshop.ends.names import Names
from planner.workshop.ends.piggybacks import blades_left_free
from planner.workshop.materials.pieces import Piece
from planner.workshop.materials.shelf import Shelf
from planner.workshop.tasks.task import Task, is_pull
from planner.workshop.words.contacts import draws_out
from planner.workshop.words.fitted_words import fuses_left

CORD_METRES = 1.0  # more than the wire behind trim, to hold on to at both ends; common practice, no source
CLIP_EVERY_METRES = 0.3  # common practice, no source
_Steps = Sequence[tuple[int, Task]]


def small_things(
    names: Names, steps: _Steps, made: Sequence[Piece], crimps: Sequence[Crimp], shelf: Shelf
) -> Iterator[Material]:
    """Yield piggybacks, sleeves, caps, fuses, clips, grommets, the tool for contacts and cord."""
    yield from _piggybacks(names, steps, shelf)
    yield from _sleeves(names, crimps, shelf)
    yield from _caps(names, steps, shelf)
    yield from _fuses(names, steps, shelf)
    yield from _along(names, made)
    if drawn := [Use(number) for number, task in steps if draws_out(names, task)]:
        note = tr("to suit the housing; one does for all")
        yield Material("tool", tr("tool that releases a contact"), "pieces", (drawn[0],), note)
    tasks = [task for _, task in steps]
    cord = tuple(
        Use(number, next(p.metres for p in made if p.step == number) + CORD_METRES)
        for number, task in steps
        if is_pull(task, tasks)
    )
    if cord:
        yield Material("cord", tr("draw cord"), "m", cord)


def _piggybacks(names: Names, steps: _Steps, shelf: Shelf) -> Iterator[Material]:
    tabs: dict[str, list[int]] = {}
    for number, task in steps:
        if isinstance(task.operation, Piggyback):
            tabs.setdefault(names.usual_end(task.operation.at) or "", []).append(number)
    for fitting, uses in sorted(tabs.items(), key=lambda item: _tab(item[0])):
        wanted = StockThing(kind="piggyback", fitting=fitting) if fitting else None
        what = tr("piggyback push-on terminal, {size}", size=_tab(fitting))
        note = tr("one with two blades and no wire in it; or one of the wires is crimped into the usual kind")
        yield Material("piggyback", what, "pieces", shelf.uses(uses, wanted), note)


def _sleeves(names: Names, crimps: Sequence[Crimp], shelf: Shelf) -> Iterator[Material]:
    """Yield what is slid on before a terminal: a sleeve, in the wet one with glue as well."""
    if sleeved := [crimp.step for crimp in crimps if crimp.is_sleeved]:
        uses = shelf.uses(sleeved, StockThing(kind="sleeve"))
        yield Material("sleeve", tr("insulating sleeve for a terminal"), "pieces", uses)
    if wet := [crimp.step for crimp in crimps if crimp.is_crimped and is_wet(names, crimp.at)]:
        note = tr("for crimps in the wet")
        yield Material("sleeve", tr("shrink sleeve with glue inside"), "pieces", shelf.uses(wet, None), note)


def _caps(names: Names, steps: _Steps, shelf: Shelf) -> Iterator[Material]:
    """Yield caps: of ends and terminals that are covered for good, and of those that are off for a while."""
    wanted = StockThing(kind="cap")
    covered: list[int] = []
    old: list[int] = []
    meanwhile: list[int] = []
    blades: list[int] = []
    free = blades_left_free(names)
    for number, task in steps:
        operation = task.operation
        if number in free:
            blades.append(number)
        if isinstance(operation, Cover):
            covered.append(number)
        elif isinstance(operation, Hold):
            meanwhile.append(number)
        elif isinstance(operation, Remove):
            meanwhile += [number] * len(off_meanwhile(names, task, operation))
        elif isinstance(operation, Renew):
            old += [number] * 2
            meanwhile += [number] * len(joined_later(names, task))
    if covered:
        what = tr("insulating cap or sleeve, with a tie")
        note = tr("for ends and terminals covered")
        yield Material("cap", what, "pieces", shelf.uses(covered, wanted), note)
    if blades:
        what = tr("insulating cap for a push-on blade")
        note = tr("for the free blade of a piggyback")
        yield Material("cap", what, "pieces", shelf.uses(blades, wanted), note)
    if old:
        what = tr("insulating cap for an end of an old wire")
        note = tr("where it is not drawn out")
        yield Material("cap", what, "pieces", shelf.uses(old, wanted), note)
    if meanwhile:
        what = tr("insulating cap for an end that is off for a while")
        note = tr("one may serve again; tape does as well")
        yield Material("cap", what, "pieces", shelf.uses(meanwhile, wanted), note)


def _fuses(names: Names, steps: _Steps, shelf: Shelf) -> Iterator[Material]:
    laid: dict[float, list[int]] = {}
    own: dict[tuple[float, str], list[int]] = {}  # those that a new part takes, by what is printed on them
    for number, task in steps:
        operation = task.operation
        if isinstance(operation, ChangeFuse):
            laid.setdefault(operation.amps, []).append(number)
        elif isinstance(operation, Fit | Insert):
            for fuse in fuses_left(names, operation.at, operation.place):
                own.setdefault((fuse.amps, fuse.marked), []).append(number)
    for amps, uses in sorted(laid.items()):
        what = tr("fuse, {amps:g} A continuous", amps=amps)
        yield Material("fuse", what, "pieces", shelf.uses(uses, StockThing(kind="fuse", amps=amps)))
    for (amps, marked), uses in sorted(own.items()):
        is_blowing = marked == "blowing"
        wanted = None if is_blowing else StockThing(kind="fuse", amps=amps)
        what = tr("fuse, {amps:g} A blowing") if is_blowing else tr("fuse, {amps:g} A continuous")
        note = tr("of the new part, which may come with it")
        yield Material("fuse", what.format(amps=amps), "pieces", shelf.uses(uses, wanted), note)


def _along(names: Names, made: Sequence[Piece]) -> Iterator[Material]:
    """Yield what holds and guards the wires that are run: clips, and grommets from one zone to the next."""
    clips: list[Use] = []
    grommets: list[Use] = []
    for piece in made:
        if (piece.is_run or piece.longer_at) and (count := int(piece.metres / CLIP_EVERY_METRES)):
            clips.append(Use(piece.step, count))
        if piece.is_run:
            zones = zones_on_the_way(names.after, piece.ends[0].at, piece.ends[-1].at)
            walls = len(zones) - 1 if zones else 1  # where nobody knows its way it goes through a wall
            grommets += [Use(piece.step, walls)] if walls > 0 else []
    if clips:
        note = tr("one every {metres:g} m; common practice, no source", metres=CLIP_EVERY_METRES)
        yield Material("clip", tr("clip or tie for a new wire"), "pieces", tuple(clips), note)
    if grommets:
        note = tr("from one part of the vehicle to the next, where the hole has none yet")
        yield Material("grommet", tr("rubber grommet"), "pieces", tuple(grommets), note)


def _tab(fitting: str) -> str:
    """The size of the tab that a piggyback goes on."""
    kind, _, size = fitting.partition("-")
    return tr("{size} mm", size=size) if kind == "blade" else tr("to suit")
