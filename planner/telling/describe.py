"""The whole plan: a choice and its proof as the record that sheets and JSON show."""

from planner.cautions import cautions_for
from planner.currents.currents import Currents
from planner.currents.report import (
    APPEARANCE,
    dead_test_lines,
    drain_remarks,
    load_lines,
    strain_lines,
)
from planner.engine.settle import Choice
from planner.model.catalogue import Catalogue
from planner.model.job import Job
from planner.model.loom import Loom
from planner.model.need import Question
from planner.model.plan import (
    CurrentsLine,
    Plan,
    ProofLine,
)
from planner.model.starting import starting_positions
from planner.model.vehicle_kind import having
from planner.proof.prove import Proof, Prover
from planner.proof.report import Reporter, judge_road
from planner.telling.alternatives import alike, alternative_line
from planner.telling.questions import (
    doubt_questions,
    measured_part_questions,
    question_line,
    unproven_questions,
)
from planner.telling.remarks import half_drawn_remarks, parking_remarks, remark_lines
from planner.telling.steps import work_list
from planner.telling.verdict import judge


def describe(
    job: Job,
    loom: Loom,
    catalogue: Catalogue,
    choice: Choice,
    prover: Prover,
    proof: Proof,
    currents: Currents,
) -> Plan:
    """A choice and its proof as the record that sheets and JSON show."""
    candidate = choice.chosen.candidate
    after = candidate.loom
    work = work_list(job, loom, catalogue, candidate, prover.facts, currents.strains(after))
    steps = work.steps()
    usual = frozenset(alike(step) for step in steps)
    reporter = Reporter(
        loom, after, (prover.before.net, prover.network(after)), starting_positions(after, catalogue)
    )
    asked = dict.fromkeys(question_line(n) for n in choice.notes if isinstance(n, Question))
    unproven = unproven_questions(prover, proof, reporter) if steps else ()
    questions = (
        *doubt_questions(loom),
        *asked,
        *unproven,
        *measured_part_questions(job, catalogue, reporter),
    )
    behaviours = (*reporter.missing(proof.faults), *reporter.behaviours(proof.findings))
    made = currents.made(after)
    lines = tuple(strain_lines(currents.strains(after), currents.before, after, made, reporter.at))
    strained = currents.faults(after, thorough=True)
    remarks = remark_lines(choice, loom, after, catalogue, job)
    # What gets more than it is made for, or is live without any fuse to give it, is not done with a remark.
    unsettled = (*choice.unsettled, *(line.text for line in remarks if line.is_open))
    road, road_why = judge_road(behaviours, proof.hazards, lines, bool(questions), bool(unsettled), reporter)
    return Plan(
        job=job.job,
        title=job.title or job.job,
        loom=loom.title or loom.loom,
        is_demonstration=False,
        verdict=judge((*proof.faults, *strained), bool(questions), bool(unsettled)),
        road=road,
        road_why=road_why,
        cards=work.cards(steps),
        steps=steps,
        behaviours=behaviours,
        hazards=tuple(reporter.hazards(proof.hazards)),
        unsettled=unsettled,
        questions=questions,
        remarks=(
            *remarks,
            *drain_remarks(currents.strains(after), currents.before, after),
            *parking_remarks(proof, reporter, job),
            *half_drawn_remarks(prover, proof, reporter),
        ),
        cautions=cautions_for(is_boat=not having(after.kind).wheels),
        not_seen=loom.not_seen,
        alternatives=tuple(
            alternative_line(a, loom, catalogue, job, usual, reporter.title, prover.facts)
            for a in choice.alternatives
        ),
        proof=ProofLine(
            proof.positions,
            proof.start_states,
            prover.solved,
            proof.compared,
            choice.looms_judged,
            proof.seconds,
            proof.engine_needs_spark,
        ),
        minutes=round(sum(step.minutes for step in steps), 1),
        is_proven_cheapest=choice.is_proven_cheapest,
        strains=lines,
        currents=_covered(currents, loom, after, reporter),
        reasoning=job.reasoning or "",
        kind=after.kind,
    )


def _covered(currents: Currents, before: Loom, after: Loom, reporter: Reporter) -> CurrentsLine:
    """What the electrical view covered, and under which conditions."""
    seen = currents.inspection(after)
    return CurrentsLine(
        len(seen.survey.samples),
        seen.survey.worst_residual_amps,
        100.0 * currents.conditions.charge,
        currents.conditions.wire_celsius,
        tuple(load_lines(seen, currents.inspection(before), reporter.at)),
        APPEARANCE,
        tuple(dead_test_lines(seen)),
        tuple(sorted(after.bundles)),
        tuple(sorted({word for word in (before.insulation, *(w.insulation for w in before.wires)) if word})),
        before.assumed,
    )
