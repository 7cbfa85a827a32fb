"""The stages of planning, by name and in order: read, prove before, settle, prove after, put into words."""

import shlex
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

from planner.currents.checks.inspection import Inspection
from planner.currents.currents import Currents
from planner.currents.grid import Conditions
from planner.engine.packs import installed_rules
from planner.engine.rule import Rule
from planner.engine.settle import Choice, Settler
from planner.inquiry.kit.for_job import as_stock, lead_lines
from planner.model.bench_sheet import BenchSheet
from planner.model.catalogue import Catalogue
from planner.model.delta import Step
from planner.model.ends_after import terminals_taken
from planner.model.job import Job, Swap
from planner.model.kit import KitLead
from planner.model.loom import Loom
from planner.model.need import Fault
from planner.model.part import Part
from planner.model.plan import Plan
from planner.model.ticks import Ticks
from planner.problems import UsageError
from planner.proof.facts import conductor_facts
from planner.proof.prove import Prover
from planner.reading.catalogue import find_file, installed_directories, read_job, read_loom, scan_catalogue
from planner.reading.checking import check_file
from planner.reading.validate import suggest
from planner.telling.describe import describe
from planner.telling.steps import work_list
from planner.testing.wired import Wired
from planner.workshop.bench import bench_sheet
from planner.workshop.halfway import as_it_turned_out, half_done, mends, ticked_ids
from planner.workshop.worklist import WorkList

DEMONSTRATION = "whole-van"


def open_catalogue(extra: Sequence[str | Path] = ()) -> Catalogue:
    """Open the installed catalogues and any more directories; parts are read when they are asked for.

    Raises InputError if anything in them cannot be used, also when a part is asked for.
    """
    return scan_catalogue([*installed_directories(), *map(Path, extra)])


def plan_job(
    name: str | Path | None,
    catalogue: Catalogue,
    *,
    charge_percent: float = 100.0,
    kit: Sequence[KitLead] = (),
) -> Plan:
    """Plan a job by path or shipped name; None plans the built-in demonstration.

    Its volts and amps are those of a battery that is charged so far, from 0 to 100 percent. The leads of a
    kit are stock beside the job's own.

    Raises InputError if the job cannot be used, TooLargeError if its circuit cannot be proven.
    """
    job, loom = read_job(name or DEMONSTRATION, catalogue)
    job = _with_kit(job, kit)
    conditions = Conditions(charge=charge_percent / 100.0)
    result = plan(job, loom, catalogue, installed_rules(), conditions)
    return replace(result, is_demonstration=name is None, leads=lead_lines(kit, result) if kit else ())


def plan_fitting(
    original: Part, other: Part, loom_name: str, at: str, catalogue: Catalogue
) -> tuple[Plan, dict[str, str | None]]:
    """Plan the one swap of a part for another at a place of a loom, by the loom's path or shipped name.

    Gives the plan, and for each terminal of the original that has ends the one that they go to, if it is one.
    The other part need not be in the catalogue. Raises InputError if the loom cannot be used, UsageError if
    the original is not fitted there, TooLargeError if its circuit cannot be proven.
    """
    loom = read_loom(loom_name, catalogue)
    if at not in loom.places:
        own = [place for place, fitted in loom.places.items() if fitted.part == original.part]
        near = " or ".join(own) or suggest(at, loom.places) or ", ".join(loom.places)
        raise UsageError(f"{loom.loom} has no place {at!r}; try {near}")
    fitted = loom.places[at].part
    if fitted != original.part:
        raise UsageError(f"{at} of {loom.loom} holds {fitted}, not {original.part}; compare with {fitted}")
    if catalogue.parts.get(other.part, other) != other:
        raise UsageError(
            f"the catalogue has another part with the id {other.part}; give yours one of its own"
        )
    known = catalogue
    if other.part not in catalogue.parts:
        known = replace(catalogue, parts={**catalogue.parts, other.part: other})
    title = f"{loom.place_title(at)}, {loom.title or loom.loom}: {other.title}"
    job = Job(job=f"fit-{other.part}"[:61], title=title, loom=loom.loom, swaps=(Swap(at=at, fit=other.part),))
    told, after = _planned(job, loom, known, installed_rules(), None)
    return told, terminals_taken(loom, after, at, other)


def plan(
    job: Job,
    loom: Loom,
    catalogue: Catalogue,
    rules: Sequence[Rule],
    conditions: Conditions | None = None,
) -> Plan:
    """Settle a job, prove the result, and put it into words."""
    return _planned(job, loom, catalogue, rules, conditions)[0]


def _planned(
    job: Job, loom: Loom, catalogue: Catalogue, rules: Sequence[Rule], conditions: Conditions | None
) -> tuple[Plan, Loom]:
    """The plan in words, and the loom that it ends at."""
    prover = Prover(loom, catalogue, job)
    currents = Currents(prover, conditions)
    choice = settle(job, loom, catalogue, rules, prover, currents)
    after = choice.chosen.candidate.loom
    return describe(job, loom, catalogue, choice, prover, prover.prove(after), currents), after


def sheet_job(
    name: str | Path | None,
    catalogue: Catalogue,
    ticks: Ticks | None = None,
    *,
    kit: Sequence[KitLead] = (),
    with_states: bool = False,
    with_pictures: bool = False,
    with_as_built: bool = False,
) -> BenchSheet:
    """Plan a job as ``plan_job`` does, and work out what is taken to the vehicle, or what is left of it.

    ``with_states`` adds what the live picture of a page looks up, ``with_pictures`` the drawings,
    ``with_as_built`` the fewest readings that prove the work.
    Raises InputError also where what is ticked is not in the plan.
    """
    job, loom = read_job(name or DEMONSTRATION, catalogue)
    job = _with_kit(job, kit)
    called = shlex.quote(str(name)) if name else ""
    options = _SheetOptions(called, with_states, with_pictures, with_as_built)
    planned, work = _sheet(job, loom, catalogue, options)
    if ticks is None:
        return planned
    ids, to_mend = ticked_ids(planned, ticks.done), mends(work.names, ticks.found)
    turned_out = as_it_turned_out(job, ticks.found, catalogue)
    now = planned
    if turned_out != job:
        now, _ = _sheet(turned_out, loom, catalogue, options)
    return half_done(now, ids, planned, to_mend)


def _with_kit(job: Job, kit: Sequence[KitLead]) -> Job:
    """A job with the leads of a kit as stock beside its own."""
    return job.model_copy(update={"stock": (*job.stock, *as_stock(kit))}) if kit else job


class _SheetOptions(NamedTuple):
    """What a sheet is made for."""

    called: str  # what the command line named; nothing for the demonstration
    with_states: bool
    with_pictures: bool
    with_as_built: bool


def _sheet(job: Job, loom: Loom, catalogue: Catalogue, options: _SheetOptions) -> tuple[BenchSheet, WorkList]:
    """Settle a job, prove the result, and work out what is taken to the vehicle."""
    prover = Prover(loom, catalogue, job)
    currents = Currents(prover)
    choice = settle(job, loom, catalogue, installed_rules(), prover, currents)
    candidate = choice.chosen.candidate
    proof = prover.prove(candidate.loom)
    plan = describe(job, loom, catalogue, choice, prover, proof, currents)
    work = work_list(job, loom, catalogue, candidate, prover.facts)
    facts_after = conductor_facts(candidate.loom, catalogue, prover.compiled)
    shown = replace(plan, is_demonstration=not options.called)
    sheet = replace(bench_sheet(shown, work, job, catalogue, facts_after), called=options.called)
    # What only some forms show is imported and worked out for those alone.
    if options.with_states:
        from planner.live.page_states import page_states  # noqa: PLC0415

        states = page_states(loom, candidate.loom, catalogue, work.names.shown)
        sheet = replace(sheet, states=states)
    if options.with_pictures:
        from planner.pictures.pictures import draw_pictures  # noqa: PLC0415

        swapped = tuple(card.at for card in plan.cards)
        pictures = draw_pictures(loom, candidate.loom, catalogue, swapped, work.names.shown)
        sheet = replace(sheet, pictures=pictures)
    vehicle = _as_wired(job, loom, candidate.steps, work)
    return _metered(sheet, vehicle, currents.inspection(vehicle.loom), work, options), work


def _metered(
    sheet: BenchSheet, vehicle: Wired, seen: Inspection, work: WorkList, options: _SheetOptions
) -> BenchSheet:
    """A sheet with what is measured after the work."""
    from planner.testing.as_built.as_built import as_built  # noqa: PLC0415
    from planner.testing.page.ground import Ground  # noqa: PLC0415 - numpy; a plan does without
    from planner.testing.page.page import meter_page  # noqa: PLC0415
    from planner.testing.page.steps import StepsOf  # noqa: PLC0415

    ground, steps = Ground(vehicle, seen, seen.catalogue), StepsOf(vehicle.loom, work.ordered)
    page = meter_page(ground, sheet.plan.behaviours, steps)
    return replace(sheet, meter=page, as_built=as_built(ground, steps) if options.with_as_built else None)


def _as_wired(job: Job, before: Loom, steps: Sequence[Step], work: WorkList) -> Wired:
    """The vehicle as it is once the work is done."""
    after = work.names.after
    shown = {wire.wire: work.names.shown(wire.wire) for wire in after.wires}
    return Wired(job.title or job.job, after, before, tuple(steps), shown)


def wired(name: str | Path, catalogue: Catalogue) -> Wired:
    """The vehicle as it should be: a loom as it is drawn, or a job's as it is once the work is done.

    Raises InputError if the job or loom cannot be used.
    """
    said = check_file(find_file(str(name), catalogue), catalogue)
    if said.loom is None:
        raise UsageError(f"{name} is a list of parts; name a job or a loom")
    if said.job is None:
        return Wired(said.loom.title or said.loom.loom, said.loom)
    job, before = said.job, said.loom
    prover = Prover(before, catalogue, job)
    choice = settle(job, before, catalogue, installed_rules(), prover, Currents(prover))
    candidate = choice.chosen.candidate
    return _as_wired(job, before, candidate.steps, work_list(job, before, catalogue, candidate, prover.facts))


def settle(
    job: Job,
    loom: Loom,
    catalogue: Catalogue,
    rules: Sequence[Rule],
    prover: Prover,
    currents: Currents | None = None,
) -> Choice:
    """Choose the plan, its alternatives, questions and remarks; without currents, by the wiring alone."""

    def judge(some_job: Job, after: Loom) -> tuple[Fault, ...]:
        return prover.prove(after, some_job).faults

    strainer = currents.faults if currents else None
    return Settler(loom, catalogue, job, rules, prover.facts, judge, strainer=strainer).settle()
