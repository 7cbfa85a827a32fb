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
from planner.model.loom import Wire
from planner.model.measures import length_words
from planner.model.plan import PlanStep
from planner.model.ticks import CutWire, Found, OtherPart, Tick
from planner.model.wording import colour_words
from planner.problems import InputError, Problem
from planner.workshop.names import Names, end_words

MOST_WARNINGS = 5


def ticked_ids(bench: BenchSheet, ticks: Sequence[Tick]) -> frozenset[str]:
    """The ids of the ticked steps; raises InputError where a plan has no such step."""
    by_number = {str(step.n): step.id for step in bench.plan.steps}
    known = set(by_number.values())
    unknown = [tick for tick in ticks if tick.step not in by_number and tick.step not in known]
    if unknown:
        hint = f"a number from 1 to {len(known)}" if known else "another job: this plan has no steps"
        raise InputError([Problem(unknown[0].place, _no_steps(unknown), hint=hint)])
    return frozenset(by_number.get(tick.step, tick.step) for tick in ticks)


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


def as_it_turned_out(job: Job, found: Sequence[Found], catalogue: Catalogue) -> Job:
    """The job with the parts that are really there; raises InputError where that cannot be."""
    problems = []
    swaps = list(job.swaps)
    for one in found:
        if isinstance(one, OtherPart):
            number = next((n for n, swap in enumerate(swaps) if swap.at == one.at), None)
            if number is None:
                hint = f"one of {', '.join(swap.at for swap in swaps)}"
                problems.append(Problem(one.place, f"this job fits nothing at {one.at!r}", hint=hint))
            elif one.part not in catalogue.parts:
                hint = "another id: 'loomwright parts' lists them all"
                problems.append(Problem(one.place, f"no part has the id {one.part!r}", hint=hint))
            else:
                swaps[number] = swaps[number].model_copy(update={"fit": one.part})
    if problems:
        raise InputError(problems)
    return job.model_copy(update={"swaps": tuple(swaps)})


def half_done(
    bench: BenchSheet, ids: frozenset[str], planned: BenchSheet, mends: Sequence[str] = ()
) -> BenchSheet:
    """A sheet with what is done ticked; ``planned`` is the sheet on which it was ticked."""
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
        warnings=tuple(_out_of_turn(bench, done)),
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


def mends(names: Names, found: Sequence[Found], left: Sequence[PlanStep] = ()) -> tuple[str, ...]:
    """What has to be mended besides the steps that are left; raises InputError for what is not there."""
    lines, problems = [], []
    for one in found:
        if isinstance(one, OtherPart):
            continue
        every = (*names.after.wires, *names.before.wires)
        wire = next((w for w in every if one.wire in (w.wire, names.shown(w.wire))), None)
        if wire is None:
            problems.append(Problem(one.place, f"this vehicle has no wire {one.wire!r}"))
        elif isinstance(one, CutWire):
            lines.append(_laid_by_a_step(names, wire, left) or _lay_anew(names, wire))
        else:
            ends = [n for n in range(len(wire.ends)) if one.at in _addresses(names, wire.wire, n)]
            if ends:
                lines.append(_crimped_by_a_step(names, wire, ends[0], left) or _crimp(names, wire, ends[0]))
            else:
                hint = f"one of {', '.join(end.at for end in wire.ends)}"
                problems.append(Problem(one.place, f"{one.wire} has no end at {one.at!r}", hint=hint))
    if problems:
        raise InputError(problems)
    return tuple(lines)


def _addresses(names: Names, wire: str, end: int) -> Iterator[str]:
    """Yield where an end is, before the work and after it."""
    for loom in (names.before, names.after):
        if wire in loom.wire_index and end < len(loom.find(wire).ends):
            yield loom.find(wire).ends[end].at


def _crimp(names: Names, wire: Wire, end: int) -> str:
    fitting = wire.ends[end].fitting or names.usual_end(wire.ends[end].at)
    return tr(
        "Broken terminal: crimp {end} on {wire} for {at}; if it no longer reaches, lengthen it",
        end=end_words(fitting),
        wire=names.named(wire.wire, end),
        at=names.at(wire.ends[end].at),
    )


def _crimped_by_a_step(names: Names, wire: Wire, end: int, left: Sequence[PlanStep]) -> str:
    """That a step crimps another terminal on an end anyway; empty if none does."""
    is_that = {"wire": names.shown(wire.wire), "at": wire.ends[end].at}.items()
    steps = [step.n for step in left if step.do == "re-end" and is_that <= step.fields.items()]
    return f"Broken terminal: step {steps[0]} crimps another on it anyway" if steps else ""


def _laid_by_a_step(names: Names, wire: Wire, left: Sequence[PlanStep]) -> str:
    """That a step lays the whole of a wire anyway; empty if none does."""
    name = names.shown(wire.wire)
    is_that = {"wire": name, "from": wire.ends[0].at, "to": wire.ends[-1].at}.items()
    steps = [step.n for step in left if step.do in ("renew", "add") and is_that <= step.fields.items()]
    return f"Wire found cut: step {steps[0]} lays {name} anyway" if steps else ""


def _lay_anew(names: Names, wire: Wire) -> str:
    legs = range(len(wire.ends) - 1)
    ends = tr(" and ").join(
        tr("{end} for {at}", end=end_words(end.fitting or names.usual_end(end.at)), at=names.at(end.at))
        for end in wire.ends
    )
    pieces = ", ".join(
        f"{colour_words(wire.leg_colour(n))} {names.size(wire.leg_mm2(n))} {length_words(wire.leg_metres(n))}"
        for n in legs
    )
    return tr(
        "Wire found cut: lay {wire} anew, {pieces}, with {ends}",
        wire=names.shown(wire.wire),
        pieces=pieces,
        ends=ends,
    )
