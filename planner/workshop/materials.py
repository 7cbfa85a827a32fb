"""What a work needs, and what of it is to be bought: wire, terminals, sleeves, fuses, parts.

On hand are the parts that the job itself names, the finished leads of its stock, and the wire in it.
"""

from collections.abc import Iterator, Mapping, Sequence

from planner.model.bench_sheet import CuttingPlan, Label, Material
from planner.model.conductors import Gauge
from planner.model.delta import Fit, Insert, ReEnd
from planner.model.job import Job
from planner.model.measures import size_words
from planner.model.wording import colour_words, counted
from planner.workshop.cutting import cutting_plan
from planner.workshop.made_wires import Piece
from planner.workshop.names import Names
from planner.workshop.small_things import once, small_things
from planner.workshop.tasks import Task

_PLAIN = ("bare", "screw", "soldered")  # ends that nothing is crimped on
_TERMINALS: Mapping[str, str] = {
    "blade": "push-on terminal, {} mm",
    "ring": "ring, M{}",
    "stud": "ring, M{}",
    "bullet": "bullet",
    "contact": "crimped contact, to suit its housing",
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
    lines = [*_parts(names, steps, job), *_leads(made), *_wire(made, plans, gauges)]
    lines += [*_terminals(names, steps, made, gauges), *small_things(names, steps, made)]
    if labels:
        lines.append(Material("label", "label strip", len(labels), "pieces", 0, (), "texts: see labels"))
    return tuple(lines)


def _parts(names: Names, steps: Sequence[tuple[int, Task]], job: Job) -> Iterator[Material]:
    fitted: dict[str, list[tuple[int, bool]]] = {}
    for number, task in steps:
        if isinstance(task.operation, Fit | Insert):
            is_named = any(
                s.at == task.operation.at and s.fit == task.operation.place.part for s in job.swaps
            )
            fitted.setdefault(task.operation.place.part, []).append((number, is_named))
    for part, uses in fitted.items():
        title = names.catalogue.parts[part].title
        named = sum(is_named for _, is_named in uses)
        note = "" if named else "this plan's own"
        yield Material("part", title, len(uses), "pieces", named, tuple(n for n, _ in uses), note)


def _leads(made: Sequence[Piece]) -> Iterator[Material]:
    for piece in made:
        if piece.from_stock:
            what = f"finished lead, {colour_words(piece.colour)}, {piece.mm2:g} mm2, {piece.metres:g} m"
            yield Material("lead", what, 1, "pieces", 1, (piece.step,))


def _wire(made: Sequence[Piece], plans: Sequence[CuttingPlan], gauges: Sequence[Gauge]) -> Iterator[Material]:
    for plan in plans:
        own = [p for p in made if not p.from_stock and (p.colour, p.mm2) == (plan.colour, plan.mm2)]
        total = round(sum(piece.cut_metres for piece in own), 2)
        from_stock = round(total - sum(metres for _, metres in plan.to_buy), 2)
        what = f"wire, {colour_words(plan.colour)}, {size_words(plan.mm2, gauges)}"
        note = counted(len(own), "piece")
        yield Material("wire", what, total, "m", from_stock, tuple(piece.step for piece in own), note)


def _terminals(
    names: Names, steps: Sequence[tuple[int, Task]], made: Sequence[Piece], gauges: Sequence[Gauge]
) -> Iterator[Material]:
    """Yield the terminals to crimp on, by kind and by the size of the wire they have to take."""
    found: dict[tuple[str, float], list[int]] = {}
    for piece in made:
        for fitting in piece.fittings:
            if fitting and not piece.from_stock:
                found.setdefault((fitting, piece.mm2), []).append(piece.step)
    for number, task in steps:
        if isinstance(task.operation, ReEnd):
            mm2 = names.wire(task.operation.wire).end_mm2(task.operation.end)
            found.setdefault((task.operation.fitting, mm2), []).append(number)
    for (fitting, mm2), uses in sorted(found.items()):
        if fitting not in _PLAIN:
            what = f"{terminal_words(fitting)}, for {size_words(mm2, gauges)}"
            yield Material("terminal", what, len(uses), "pieces", 0, once(uses))


def terminal_words(fitting: str) -> str:
    """A terminal as a shop knows it: ``push-on terminal, 6.3 mm``."""
    kind, _, size = fitting.partition("-")
    return _TERMINALS.get(kind, "{}").format(size or kind)
