"""The stages of planning, by name and in order: read, prove before, settle, prove after, put into words."""

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

from planner.circuit.compile import Compiled
from planner.currents.currents import Currents
from planner.currents.grid import Conditions
from planner.engine.judged import Candidate
from planner.engine.packs import installed_rules
from planner.engine.rule import Rule
from planner.engine.settle import Choice, Settler
from planner.inquiry.kit.for_job import as_stock, lead_lines
from planner.model.catalogue import Catalogue
from planner.model.ends_after import terminals_taken
from planner.model.facts import Facts
from planner.model.job import Job, Swap
from planner.model.kit import KitLead
from planner.model.loom import Loom
from planner.model.need import Fault
from planner.model.part import Part
from planner.model.plan import Plan
from planner.problems import UsageError
from planner.proof.prove import Prover
from planner.reading.catalogue import installed_directories, read_job, read_loom, scan_catalogue
from planner.reading.fitted_references import conditions_lacking
from planner.reading.validate import suggest
from planner.telling.describe import describe

DEMONSTRATION = "whole-van"


class Settled(NamedTuple):
    """A plan, the work and the loom that it ends at, and what they were worked out with."""

    plan: Plan
    candidate: Candidate
    facts: Facts
    compiled: Compiled
    currents: Currents


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
) -> Settled:
    """Plan a job by path or shipped name; None plans the built-in demonstration.

    Its volts and amps are those of a battery that is charged so far, from 0 to 100 percent. The leads of a
    kit are stock beside the job's own.

    Raises InputError if the job cannot be used, TooLargeError if its circuit cannot be proven.
    """
    job, loom = read_job(name or DEMONSTRATION, catalogue)
    job = with_kit(job, kit)
    conditions = Conditions(charge=charge_percent / 100.0)
    done = settled(job, loom, catalogue, installed_rules(), conditions)
    leads = lead_lines(kit, done.plan) if kit else ()
    return done._replace(plan=replace(done.plan, is_demonstration=name is None, leads=leads))


def plan_fitting(
    original: Part, other: Part, loom_name: str, at: str, catalogue: Catalogue
) -> tuple[Plan, dict[str, str | None]]:
    """Plan the one swap of a part for another at a place of a loom, by the loom's path or shipped name.

    Gives the plan, and for each terminal of the original that has ends the one that they go to, if it is one.
    The other part need not be in the catalogue. Raises InputError if the loom cannot be used, UsageError if
    the original is not fitted there or the other asks for conditions that the loom has not, TooLargeError if
    its circuit cannot be proven.
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
    lacking = "; ".join(
        f"{message}; try {hint}" if hint else message for message, hint in conditions_lacking(other, loom)
    )
    if lacking:
        raise UsageError(lacking)
    known = catalogue
    if other.part not in catalogue.parts:
        known = replace(catalogue, parts={**catalogue.parts, other.part: other})
    title = f"{loom.place_title(at)}, {loom.title or loom.loom}: {other.title}"
    job = Job(job=f"fit-{other.part}"[:61], title=title, loom=loom.loom, swaps=(Swap(at=at, fit=other.part),))
    done = settled(job, loom, known, installed_rules())
    return done.plan, terminals_taken(loom, done.candidate.loom, at, other)


def plan(
    job: Job,
    loom: Loom,
    catalogue: Catalogue,
    rules: Sequence[Rule],
    conditions: Conditions | None = None,
) -> Plan:
    """Settle a job, prove the result, and put it into words."""
    return settled(job, loom, catalogue, rules, conditions).plan


def settled(
    job: Job,
    loom: Loom,
    catalogue: Catalogue,
    rules: Sequence[Rule],
    conditions: Conditions | None = None,
    *,
    with_alternatives: bool = True,
) -> Settled:
    """Settle a job, prove the result, put it into words, and keep what it was worked out with."""
    prover = Prover(loom, catalogue, job)
    currents = Currents(prover, conditions)
    choice = settle(job, loom, catalogue, rules, prover, currents, with_alternatives=with_alternatives)
    candidate = choice.chosen.candidate
    proof = prover.prove(candidate.loom)
    told = describe(job, loom, catalogue, choice, prover, proof, currents)
    return Settled(told, candidate, prover.facts, prover.compiled, currents)


def with_kit(job: Job, kit: Sequence[KitLead]) -> Job:
    """A job with the leads of a kit as stock beside its own."""
    return job.model_copy(update={"stock": (*job.stock, *as_stock(kit))}) if kit else job


def settle(
    job: Job,
    loom: Loom,
    catalogue: Catalogue,
    rules: Sequence[Rule],
    prover: Prover,
    currents: Currents | None = None,
    *,
    with_alternatives: bool = True,
) -> Choice:
    """Choose the plan, its alternatives, questions and remarks; without currents, by the wiring alone."""

    def judge(some_job: Job, after: Loom) -> tuple[Fault, ...]:
        return prover.prove(after, some_job).faults

    strainer = currents.faults if currents else None
    settler = Settler(loom, catalogue, job, rules, prover.facts, judge, strainer=strainer)
    return settler.settle(with_alternatives=with_alternatives)
