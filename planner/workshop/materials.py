"""What a work needs, and what of it is to be bought: wire, terminals, sleeves, fuses, parts.

On hand are the parts that the job itself names, and the leads, the wire and the small things of its stock.
"""

from collections.abc import Iterator, Mapping, Sequence

from planner.messages import later, tr
from planner.model.bench_sheet import CuttingPlan, Label, Material, Use
from planner.model.conductors import Gauge
from planner.model.delta import Cut, Fit, Insert, ReEnd
from planner.model.job import Job, StockThing
from planner.model.joiners import STUD_RING, stud_mm2
from planner.model.measures import length_words, size_words
from planner.model.wording import colour_words
from planner.workshop.cutting import cutting_plan
from planner.workshop.made_wires import Piece
from planner.workshop.names import Names
from planner.workshop.shelf import Shelf
from planner.workshop.small_things import small_things
from planner.workshop.task import Task

_PLAIN = ("bare", "screw", "soldered")  # ends that nothing is crimped on
_TERMINALS: Mapping[str, str] = {
    "blade": later("push-on terminal, {size} mm"),
    "ring": later("ring, M{size}"),
    "stud": later("ring, M{size}"),
    "bullet": later("bullet"),
    "contact": later("crimped contact, to suit its housing"),
}


def cutting(made: Sequence[Piece], job: Job) -> tuple[CuttingPlan, ...]:
    """A cutting plan for each colour and size that is cut."""
    groups: dict[tuple[str, float], list[Piece]] = {}
    for piece in made:
        if not piece.from_stock:
            groups.setdefault((piece.colour, piece.mm2), []).append(piece)
    return tuple(
        cutting_plan(
            colour,
            mm2,
            [(piece.name, piece.cut_metres) for piece in group],
            [w.metres for w in job.stock_wire if (w.colour, w.mm2) == (colour, mm2) for _ in range(w.count)],
        )
        for (colour, mm2), group in sorted(groups.items())
    )


def materials(
    names: Names,
    ordered: Sequence[Task],
    made: Sequence[Piece],
    plans: Sequence[CuttingPlan],
    labels: Sequence[Label],
    job: Job,
    gauges: Sequence[Gauge],
) -> tuple[Material, ...]:
    """Every line of what is needed, in the order in which one lays it out on the bench."""
    steps = tuple(enumerate(ordered, 1))
    shelf = Shelf(job.stock_things)
    lines = [*_parts(names, steps, job, shelf), *_leads(made, gauges), *_wire(made, plans, gauges)]
    lines += [*_terminals(names, steps, made, gauges, shelf), *small_things(names, steps, made, shelf)]
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


def _leads(made: Sequence[Piece], gauges: Sequence[Gauge]) -> Iterator[Material]:
    for piece in made:
        if piece.from_stock:
            what = tr(
                "finished lead, {colour}, {size}, {length}",
                colour=colour_words(piece.colour),
                size=size_words(piece.mm2, gauges),
                length=length_words(piece.metres),
            )
            yield Material("lead", what, "pieces", (Use(piece.step, 1, 1),))


def _wire(made: Sequence[Piece], plans: Sequence[CuttingPlan], gauges: Sequence[Gauge]) -> Iterator[Material]:
    for plan in plans:
        own = [p for p in made if not p.from_stock and (p.colour, p.mm2) == (plan.colour, plan.mm2)]
        bought = list(plan.to_buy)
        uses = []
        for piece in own:
            is_bought = (piece.name, piece.cut_metres) in bought
            if is_bought:
                bought.remove((piece.name, piece.cut_metres))
            uses.append(Use(piece.step, piece.cut_metres, 0 if is_bought else piece.cut_metres))
        size = size_words(plan.mm2, gauges)
        what = tr("wire, {colour}, {size}", colour=colour_words(plan.colour), size=size)
        yield Material("wire", what, "m", tuple(uses))


def _terminals(
    names: Names,
    steps: Sequence[tuple[int, Task]],
    made: Sequence[Piece],
    gauges: Sequence[Gauge],
    shelf: Shelf,
) -> Iterator[Material]:
    """Yield the terminals to crimp on, by kind and by the size of the wire they have to take."""
    found: dict[tuple[str, float], list[int]] = {}
    for piece in made:
        for fitting, step in zip(piece.fittings, piece.crimped_at, strict=True):
            if fitting and not piece.from_stock:
                found.setdefault((fitting, piece.mm2), []).append(step)
    for number, task in steps:
        if isinstance(task.operation, ReEnd):
            mm2 = names.wire(task.operation.wire).end_mm2(task.operation.end)
            found.setdefault((task.operation.fitting, mm2), []).append(number)
        elif isinstance(task.operation, Cut) and stud_mm2(names.after, task.operation.joint):
            wire, end = names.after.find(task.operation.wire), task.operation.end
            for leg in (end - 1, end):
                found.setdefault((STUD_RING, wire.leg_mm2(leg)), []).append(number)
    for (fitting, mm2), uses in sorted(found.items()):
        if fitting not in _PLAIN:
            size = size_words(mm2, gauges)
            what = tr("{terminal}, for {size}", terminal=terminal_words(fitting), size=size)
            wanted = StockThing(kind="terminal", fitting=fitting, mm2=(mm2,))
            yield Material("terminal", what, "pieces", shelf.uses(uses, wanted))


def terminal_words(fitting: str) -> str:
    """A terminal as a shop knows it: ``push-on terminal, 6.3 mm``."""
    kind, _, size = fitting.partition("-")
    return tr(_TERMINALS.get(kind, kind)).format(size=size)
