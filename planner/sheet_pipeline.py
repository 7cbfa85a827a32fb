"""From a settled plan to the vehicle: the bench sheet, and the vehicle once the work is done."""

import shlex
from collections.abc import Iterator, Sequence
from concurrent.futures import Future
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

from planner.beside import beside
from planner.currents.checks.inspection import Inspection
from planner.currents.currents import Currents
from planner.engine.packs import installed_rules
from planner.model.bench_sheet import BenchSheet
from planner.model.catalogue import Catalogue
from planner.model.delta import Step
from planner.model.job import Job
from planner.model.kit import KitLead
from planner.model.loom import Loom
from planner.model.picture import Picture, Side
from planner.model.ticks import Found, OtherPart, Ticks
from planner.pipeline import DEMONSTRATION, settle, settled, with_kit
from planner.problems import InputError, Problem, UsageError
from planner.proof.facts import conductor_facts
from planner.proof.prove import Prover
from planner.reading.catalogue import find_file, read_job
from planner.reading.checking import check_file
from planner.reading.fitted_references import conditions_lacking
from planner.telling.steps import work_list
from planner.testing.wired import Wired
from planner.workshop.bench import bench_sheet
from planner.workshop.ends.stations import stations
from planner.workshop.ends.tied_back import live_ends
from planner.workshop.halfway.halfway import (
    as_it_turned_out,
    half_done,
    impossible_parts,
    ticked_ids,
    unknown_steps,
)
from planner.workshop.halfway.mending import Mending, other_parts, wrongly_found
from planner.workshop.steps.worklist import WorkList


def sheet_job(
    name: str | Path | None,
    catalogue: Catalogue,
    ticks: Ticks | None = None,
    *,
    kit: Sequence[KitLead] = (),
    with_states: bool = False,
    with_pictures: bool = False,
    side: Side = "wiring",
    with_as_built: bool = False,
) -> BenchSheet:
    """Plan a job as ``plan_job`` does, and work out what is taken to the vehicle, or what is left of it.

    ``with_states`` adds what the live picture of a page looks up, ``with_pictures`` the drawings
    (the terminals of a place as seen from a ``side``), ``with_as_built`` the fewest readings that prove the
    work.
    Raises InputError also where what is ticked is not in the plan.
    """
    if with_pictures:
        from planner.pictures.layered import start_engine  # noqa: PLC0415

        start_engine()
    job, loom = read_job(name or DEMONSTRATION, catalogue)
    job = with_kit(job, kit)
    called = shlex.quote(str(name)) if name else ""
    options = _SheetOptions(called, with_states, with_pictures, with_as_built, side)
    planned, work, _ = _sheet(job, loom, catalogue, options)
    if ticks is None:
        return planned
    problems = [*unknown_steps(planned, ticks.done), *impossible_parts(job, ticks.found, catalogue)]
    problems += _lacking(ticks.found, loom, catalogue)
    problems += wrongly_found(work.names, ticks.found)
    if problems:
        raise InputError(problems)
    ids = ticked_ids(planned, ticks.done)
    turned_out = as_it_turned_out(job, ticks.found)
    now, now_work = planned, work
    if turned_out != job:
        now, now_work, _ = _sheet(turned_out, loom, catalogue, options)
    mending = Mending(work.names, now_work.names, now, ids)
    return half_done(now, ids, planned, mending.lines(ticks.found), other_parts(work.names, ticks.found))


def _lacking(found: Sequence[Found], loom: Loom, catalogue: Catalogue) -> Iterator[Problem]:
    """Yield what a part that is there instead leaves to the loom's conditions and the loom does not have."""
    for one in found:
        if isinstance(one, OtherPart) and one.part in catalogue.parts:
            for message, hint in conditions_lacking(catalogue.parts[one.part], loom):
                yield Problem(one.place, message, hint=hint)


def metered_job(
    name: str | Path | None, catalogue: Catalogue, *, with_as_built: bool, kit: Sequence[KitLead] = ()
) -> tuple[BenchSheet, Wired]:
    """The bench sheet of a job with its meter page, and the vehicle that is measured."""
    job, loom = read_job(name or DEMONSTRATION, catalogue)
    job = with_kit(job, kit)
    called = shlex.quote(str(name)) if name else ""
    sheet, _, vehicle = _sheet(job, loom, catalogue, _SheetOptions(called, with_as_built=with_as_built))
    return sheet, vehicle


class _SheetOptions(NamedTuple):
    """What a sheet is made for."""

    called: str  # what the command line named; nothing for the demonstration
    with_states: bool = False
    with_pictures: bool = False
    with_as_built: bool = False
    side: Side = "wiring"


def _sheet(
    job: Job, loom: Loom, catalogue: Catalogue, options: _SheetOptions
) -> tuple[BenchSheet, WorkList, Wired]:
    """Settle a job, prove the result, and work out what is taken to the vehicle, which comes last."""
    done = settled(job, loom, catalogue, installed_rules(), with_alternatives=False)
    candidate, after = done.candidate, done.candidate.loom
    work = work_list(job, loom, catalogue, candidate, done.facts, done.currents.strains(after))
    facts_after = conductor_facts(after, catalogue, done.compiled)
    shown = replace(done.plan, is_demonstration=not options.called)
    sheet = replace(bench_sheet(shown, work, job, catalogue, facts_after), called=options.called)
    swapped = tuple(card.at for card in shown.cards)
    # What only some forms show is imported and worked out for those alone. Pictures are laid out by an engine
    # that runs by itself, beside what is computed here.
    drawn = _pictures(loom, after, catalogue, swapped, work, options.side) if options.with_pictures else None
    if options.with_states:
        from planner.live.page_states import page_states  # noqa: PLC0415

        sheet = replace(sheet, states=page_states(loom, after, catalogue, work.names.shown))
    vehicle = _as_wired(job, loom, candidate.steps, work)
    seen = done.currents.inspection(vehicle.loom)
    sheet = _metered(sheet, vehicle, seen, work, options)
    sheet = _tried(sheet, seen)
    return replace(sheet, pictures=drawn.result() if drawn else ()), work, vehicle


def _pictures(
    before: Loom, after: Loom, catalogue: Catalogue, swapped: Sequence[str], work: WorkList, side: Side
) -> Future[tuple[Picture, ...]]:
    """The pictures of a work, as they are drawn."""
    from planner.pictures.pictures import draw_pictures  # noqa: PLC0415

    shown, at, live = work.names.shown, stations(work.names), live_ends(work.names)
    return beside(lambda: draw_pictures(before, after, catalogue, swapped, shown, side, at, live))


def _metered(
    sheet: BenchSheet, vehicle: Wired, seen: Inspection, work: WorkList, options: _SheetOptions
) -> BenchSheet:
    """A sheet with what is measured after the work."""
    from planner.testing.as_built.as_built import as_built  # noqa: PLC0415
    from planner.testing.page.ground import Ground  # noqa: PLC0415 - numpy; a plan does without
    from planner.testing.page.page import meter_page  # noqa: PLC0415
    from planner.testing.page.steps import StepsOf  # noqa: PLC0415

    off = frozenset(one.place for one in sheet.left_off)
    ground, steps = Ground(vehicle, seen, seen.catalogue, off), StepsOf(vehicle.loom, work.ordered)
    page = meter_page(ground, sheet.plan.behaviours, steps)
    built = as_built(ground, steps) if options.with_as_built else None
    return replace(sheet, meter=page, as_built=built)


def _tried(sheet: BenchSheet, seen: Inspection) -> BenchSheet:
    """A sheet with what has to answer when the vehicle is made live, and what must not."""
    from planner.testing.engine_trial import engine_trial  # noqa: PLC0415
    from planner.testing.first_power import with_lamp  # noqa: PLC0415
    from planner.testing.interlocks import interlocks  # noqa: PLC0415

    swapped = {card.at for card in sheet.plan.cards}
    return replace(
        sheet,
        fuses=with_lamp(seen, sheet.fuses, [one.place for one in sheet.left_off]),
        interlocks=tuple(interlocks(seen, swapped)),
        engine=engine_trial(seen, swapped),
    )


def _as_wired(job: Job, before: Loom, steps: Sequence[Step], work: WorkList) -> Wired:
    """The vehicle as it is once the work is done."""
    after = work.names.after
    shown = {wire.wire: work.names.shown(wire.wire) for wire in after.wires}
    return Wired(job.title or job.job, after, before, tuple(steps), shown, job.job)


def wired(name: str | Path, catalogue: Catalogue) -> Wired:
    """The vehicle as it should be: a loom as it is drawn, or a job's as it is once the work is done.

    Raises InputError if the job or loom cannot be used.
    """
    said = check_file(find_file(str(name), catalogue), catalogue)
    if said.loom is None:
        raise UsageError(f"{name} is a list of parts; name a job or a loom")
    if said.job is None:
        return Wired(said.loom.title or said.loom.loom, said.loom, name=said.loom.loom)
    job, before = said.job, said.loom
    prover = Prover(before, catalogue, job)
    currents = Currents(prover)
    choice = settle(job, before, catalogue, installed_rules(), prover, currents, with_alternatives=False)
    candidate = choice.chosen.candidate
    return _as_wired(job, before, candidate.steps, work_list(job, before, catalogue, candidate, prover.facts))
