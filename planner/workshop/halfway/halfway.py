"""Half done: which steps of a plan are ticked, what turned out otherwise, and what is left.

What is done stays. A part that turned out to be another makes another plan of the same vehicle: a step that
both plans have stays ticked, one that only the first has is taken back. A broken terminal or a wire found cut
changes nothing in the plan: it is mended, and the plan goes on.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from planner.messages import tr
from planner.model.bench_sheet import BenchSheet, CuttingPlan, Material
from planner.model.catalogue import Catalogue
from planner.model.job import Job
from planner.model.ticks import Found, OtherPart, Tick
from planner.problems import InputError, Problem

MOST_WARNINGS = 5


def ticked_ids(bench: BenchSheet, ticks: Sequence[Tick]) -> frozenset[str]:
    """The ids of the ticked steps; raises InputError where a plan has no such step."""
    if problems := list(unknown_steps(bench, ticks)):
        raise InputError(problems)
    by_number = {str(step.n): step.id for step in bench.plan.steps}
    return frozenset(by_number.get(tick.step, tick.step) for tick in ticks)


def unknown_steps(bench: BenchSheet, ticks: Sequence[Tick]) -> Iterator[Problem]:
    """Yield, as one problem, what is ticked though a plan has no such step."""
    known = {word for step in bench.plan.steps for word in (str(step.n), step.id)}
    unknown = [tick for tick in ticks if tick.step not in known]
    if unknown:
        steps = len(bench.plan.steps)
        hint = f"a number from 1 to {steps}" if steps else "another job: this plan has no steps"
        yield Problem(unknown[0].place, _no_steps(unknown), hint=hint)


def _no_steps(unknown: Sequence[Tick]) -> str:
    """Everything that a plan has not, in one sentence; numbers that follow one another are a range."""
    ranges: list[list[int]] = []
    for number in sorted({int(tick.step) for tick in unknown if tick.step.isdecimal()}):
        if ranges and ranges[-1][1] == number - 1:
            ranges[-1][1] = number
        else:
            ranges.append([number, number])
    said = [f"{first} to {last}" if last > first else str(first) for first, last in ranges]
    said += dict.fromkeys(repr(tick.step) for tick in unknown if not tick.step.isdecimal())
    more = f" and {len(said) - MOST_WARNINGS} more" if len(said) > MOST_WARNINGS else ""
    is_one = len({tick.step for tick in unknown}) == 1
    return f"this plan has no step{'' if is_one else 's'} {', '.join(said[:MOST_WARNINGS])}{more}"


def as_it_turned_out(job: Job, found: Sequence[Found]) -> Job:
    """The job with the parts that are really there."""
    parts = {one.at: one.part for one in found if isinstance(one, OtherPart)}
    swaps = (swap.model_copy(update={"fit": parts.get(swap.at, swap.fit)}) for swap in job.swaps)
    return job.model_copy(update={"swaps": tuple(swaps)}) if parts else job


def impossible_parts(job: Job, found: Sequence[Found], catalogue: Catalogue) -> Iterator[Problem]:
    """Yield what cannot be there in place of what a job fits."""
    places = [swap.at for swap in job.swaps]
    for one in found:
        if isinstance(one, OtherPart) and one.at not in places:
            hint = f"one of {', '.join(places)}"
            yield Problem(one.place, f"this job fits nothing at {one.at!r}", hint=hint)
        elif isinstance(one, OtherPart) and one.part not in catalogue.parts:
            hint = "another id: 'loomwright parts' lists them all"
            yield Problem(one.place, f"no part has the id {one.part!r}", hint=hint)


def half_done(
    bench: BenchSheet,
    ids: frozenset[str],
    planned: BenchSheet,
    mends: Sequence[str] = (),
    otherwise: Sequence[str] = (),
) -> BenchSheet:
    """A sheet with what is done ticked; ``planned`` is the sheet on which it was ticked.

    ``mends`` is what has to be mended, ``otherwise`` what else is to be known of what was found.
    """
    done = tuple(step.n for step in bench.plan.steps if step.id in ids)
    known = {step.id for step in bench.plan.steps}
    gone = {step.n for step in planned.plan.steps if step.id in ids and step.id not in known}
    return replace(
        bench,
        done=done,
        making=tuple(wire for wire in bench.making if wire.step not in done),
        materials=tuple(_still_needed(bench, done)),
        cutting=tuple(_still_cut(bench, done)),
        labels=tuple(label for label in bench.labels if label.step not in done),
        taken_back=tuple(line for line in planned.undo if line.step in gone),
        mends=tuple(mends),
        warnings=(*otherwise, *_out_of_turn(bench, done)),
    )


def _still_needed(bench: BenchSheet, done: Sequence[int]) -> Iterator[Material]:
    """Yield the materials of the steps that are left."""
    for line in bench.materials:
        uses = tuple(use for use in line.uses if use.step not in done)
        if uses:
            yield replace(line, uses=uses)


def _still_cut(bench: BenchSheet, done: Sequence[int]) -> Iterator[CuttingPlan]:
    """Yield the cutting plans of which some piece is left; a length of which all pieces are used is done."""
    used = {wire.wire for wire in bench.making if wire.step in done}
    used |= {str(bench.step(n).fields["wire"]) for n in done if bench.step(n).do == "extend"}
    for plan in bench.cutting:
        cuts = tuple(replace(cut, is_done=all(name in used for name, _ in cut.pieces)) for cut in plan.cuts)
        bought = tuple(piece for piece in plan.to_buy if piece[0] not in used)
        if bought or not all(cut.is_done for cut in cuts):
            yield replace(plan, cuts=cuts, to_buy=bought)


def _out_of_turn(bench: BenchSheet, done: Sequence[int]) -> Iterator[str]:
    """Yield what is ticked though something that comes first is not."""
    early = [d for d in bench.demands if d.then in done and d.first not in done]
    for demand in early[:MOST_WARNINGS]:
        yield tr(
            "Step {then} is ticked, but step {first} is not, and comes first ({why}): look whether step "
            "{then} was really done",
            then=demand.then,
            first=demand.first,
            why=tr(demand.why),
        )
    if len(early) > MOST_WARNINGS:
        yield tr("So it is in {count:,} more cases", count=len(early) - MOST_WARNINGS)
