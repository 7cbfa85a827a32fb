"""What a work needs, and what of it is to be bought: wire, terminals, sleeves, fuses, parts.

On hand are the parts that the job itself names, and the leads, the wire and the small things of its stock.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from planner.messages import tr
from planner.model.bench_sheet import NO_STEP, CuttingPlan, Label, LeftOff, Material, Use
from planner.model.delta import Fit, Insert, Remove
from planner.model.job import Job, StockThing
from planner.model.measures import length_words
from planner.model.tank_senders import tank_sender
from planner.model.wording import colour_words
from planner.workshop.ends.batteries import belongings
from planner.workshop.ends.crimps import Crimp, crimp_mm2, crimp_words, old_wires_crimps
from planner.workshop.ends.names import Names
from planner.workshop.materials.bundled import wrapping
from planner.workshop.materials.cutting import cutting_plan
from planner.workshop.materials.guarded import guards
from planner.workshop.materials.joiners_needed import joiners_needed
from planner.workshop.materials.pieces import Piece
from planner.workshop.materials.shelf import Shelf
from planner.workshop.materials.small_things import small_things
from planner.workshop.tasks.task import Task


def cutting(names: Names, made: Sequence[Piece], job: Job) -> tuple[CuttingPlan, ...]:
    """A cutting plan for each colour and size that is cut."""
    groups: dict[tuple[str, float], list[Piece]] = {}
    for piece in made:
        if not piece.from_stock:
            groups.setdefault((piece.colour, piece.mm2), []).append(piece)
    plans = []
    for (colour, mm2), group in sorted(groups.items()):
        stock = [w for w in job.stock_wire if (w.colour, w.mm2) == (colour, mm2)]
        plan = cutting_plan(
            colour,
            mm2,
            [(piece.name, piece.cut_metres) for piece in group],
            [wire.metres for wire in stock for _ in range(wire.count)],
        )
        plans.append(replace(plan, size=names.size(mm2)))
    return tuple(plans)


def materials(
    names: Names,
    ordered: Sequence[Task],
    made: Sequence[Piece],
    plans: Sequence[CuttingPlan],
    labels: Sequence[Label],
    job: Job,
    off: Sequence[LeftOff] = (),
) -> tuple[Material, ...]:
    """Every line of what is needed, in the order in which one lays it out; ``off`` is what stays off."""
    steps = tuple(enumerate(ordered, 1))
    shelf = Shelf(job.stock_things)
    old = tuple(old_wires_crimps(names, steps))
    crimps = (*(crimp for piece in made for crimp in piece.crimps), *old)
    lines = [*_parts(names, steps, job, shelf), *_with_parts(names, steps), *_for_the_way_back(names, steps)]
    lines += [*_leads(names, made), *_wire(made, plans)]
    lines += [*_terminals(names, [crimp for crimp in crimps if crimp.is_crimped], shelf)]
    lines += [*small_things(names, steps, made, crimps, shelf), *guards(names, made, old)]
    lines += [*wrapping(names)]
    lines += joiners_needed(names, steps, made, shelf)
    if stays_off := [NO_STEP for one in off for _ in one.ends]:
        what = tr("insulating cap for an end that stays off at first power")
        lines.append(Material("cap", what, "pieces", shelf.uses(stays_off, StockThing(kind="cap"))))
    if labels:
        uses = shelf.uses([label.step for label in labels], StockThing(kind="label"))
        lines.append(Material("label", tr("label strip"), "pieces", uses, tr("texts: see labels")))
    return tuple(lines)


def _parts(names: Names, steps: Sequence[tuple[int, Task]], job: Job, shelf: Shelf) -> Iterator[Material]:
    """Yield the parts; those that the job fits are on hand, the plan's own may be in its stock."""
    fitted: dict[str, list[Use]] = {}
    named = set()
    for number, task in steps:
        if isinstance(task.operation, Fit | Insert):
            at, part = task.operation.at, task.operation.place.part
            is_named = any(swap.at == at and swap.fit == part for swap in job.swaps)
            found = (
                (Use(number, 1, 1),) if is_named else shelf.uses([number], StockThing(kind="part", part=part))
            )
            fitted.setdefault(part, []).extend(found)
            named |= {part} if is_named else set()
    for part, uses in fitted.items():
        note = "" if part in named else tr("this plan's own")
        yield Material("part", names.catalogue.parts[part].title, "pieces", tuple(uses), note)


def _with_parts(names: Names, steps: Sequence[tuple[int, Task]]) -> Iterator[Material]:
    """Yield what the catalogue says that a part is fitted with, such as a gasket."""
    found: dict[str, list[Use]] = {}
    for number, task in steps:
        if isinstance(task.operation, Fit | Insert):
            for thing, count in belongings(names, task.operation).items():
                found.setdefault(thing, []).append(Use(number, count))
    for thing, uses in found.items():
        yield Material("with-part", thing, "pieces", tuple(uses), tr("it may come with the part"))


def _for_the_way_back(names: Names, steps: Sequence[tuple[int, Task]]) -> Iterator[Material]:
    """Yield what an old part is fitted with that goes in again: a tank is never closed with an old gasket."""
    found: dict[str, int] = {}
    for operation in (task.operation for _, task in steps):
        old = operation.place if isinstance(operation, Remove) else None
        old = operation.over if isinstance(operation, Fit) else old
        part = names.catalogue.parts[old.part] if old is not None else None
        for thing, count in part.fitted_with.items() if part is not None and tank_sender(part) else ():
            found[thing] = found.get(thing, 0) + count
    for thing, count in found.items():
        note = tr("for the way back, if the old part goes in again")
        yield Material("with-part", thing, "pieces", (Use(NO_STEP, count),), note)


def _leads(names: Names, made: Sequence[Piece]) -> Iterator[Material]:
    for piece in made:
        if piece.from_stock:
            what = tr(
                "finished lead, {colour}, {size}, {length}",
                colour=colour_words(piece.colour),
                size=names.size(piece.mm2),
                length=length_words(piece.metres),
            )
            yield Material("lead", what, "pieces", (Use(piece.step, 1, 1),))


def _wire(made: Sequence[Piece], plans: Sequence[CuttingPlan]) -> Iterator[Material]:
    for plan in plans:
        own = [p for p in made if not p.from_stock and (p.colour, p.mm2) == (plan.colour, plan.mm2)]
        bought = list(plan.to_buy)
        uses = []
        for piece in own:
            is_bought = (piece.name, piece.cut_metres) in bought
            if is_bought:
                bought.remove((piece.name, piece.cut_metres))
            uses.append(Use(piece.step, piece.cut_metres, 0 if is_bought else piece.cut_metres))
        what = tr("wire, {colour}, {size}", colour=colour_words(plan.colour), size=plan.size)
        yield Material("wire", what, "m", tuple(uses))


def _terminals(names: Names, crimps: Sequence[Crimp], shelf: Shelf) -> Iterator[Material]:
    """Yield the terminals to crimp on, by kind and by the wires that they have to take."""
    found: dict[tuple[str, tuple[float, ...]], list[Crimp]] = {}
    for crimp in crimps:
        found.setdefault((crimp.fitting or "", crimp.mm2), []).append(crimp)
    for (fitting, mm2), alike in sorted(found.items()):
        size = (crimp_mm2(names, mm2),)
        wanted = StockThing(kind="terminal", fitting=fitting, mm2=size) if fitting else None
        uses = shelf.uses([crimp.step for crimp in alike], wanted)
        is_bullet = fitting == "bullet"
        note = (
            tr("with its socket, where the part or lead that it meets has a bullet too") if is_bullet else ""
        )
        yield Material("terminal", crimp_words(names, alike[0]), "pieces", uses, note)
