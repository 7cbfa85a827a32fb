"""The stages of planning, by name and in order: read, prove before, settle, prove after, put into words."""

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from planner.cautions import CAUTIONS
from planner.currents.currents import Currents
from planner.currents.grid import Conditions
from planner.currents.report import (
    APPEARANCE,
    dead_test_lines,
    drain_remarks,
    load_lines,
    strain_lines,
    strain_words,
)
from planner.engine.costs import minutes
from planner.engine.judged import Candidate, fault_weight
from planner.engine.packs import installed_rules
from planner.engine.rule import Rule
from planner.engine.settle import TRADES, Alternative, Choice, Settler
from planner.inquiry.kit_for_job import as_stock, lead_lines
from planner.model.bench_sheet import BenchSheet
from planner.model.catalogue import Catalogue
from planner.model.facts import Facts
from planner.model.job import Job, Swap
from planner.model.kit import KitLead
from planner.model.loom import Loom
from planner.model.need import Fault, Question, Remark
from planner.model.part import Part
from planner.model.plan import (
    AlternativeLine,
    CurrentsLine,
    Plan,
    PlanStep,
    ProofLine,
    QuestionLine,
    RemarkLine,
    Verdict,
)
from planner.model.strain import WEARING
from planner.model.ticks import Ticks
from planner.model.wording import wire_words
from planner.problems import UsageError
from planner.proof.behaviour import is_on
from planner.proof.facts import conductor_facts
from planner.proof.prove import Proof, Prover
from planner.proof.report import Reporter, fault_words, judge_road
from planner.proof.unproven import drawn_but_never_working
from planner.reading.catalogue import installed_directories, read_job, read_loom, scan_catalogue
from planner.reading.validate import suggest
from planner.workshop.bench import bench_sheet
from planner.workshop.halfway import as_it_turned_out, half_done, mends, ticked_ids
from planner.workshop.worklist import CONNECT, WorkList

DEMONSTRATION = "whole-van"
_NEW_WIRE = re.compile(r"\bN\d+\b")  # new wires are numbered anew in every plan
_IN_TURN = re.compile(r"; put it on at .* now, its other end later$")  # which end first differs too


def open_catalogue(extra: Sequence[Path] = ()) -> Catalogue:
    """Open the installed catalogues and any more directories; parts are read when they are asked for.

    Raises InputError if anything in them cannot be used, also when a part is asked for.
    """
    return scan_catalogue([*installed_directories(), *extra])


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


def plan_fitting(original: Part, other: Part, loom_name: str, at: str, catalogue: Catalogue) -> Plan:
    """Plan the one swap of a part for another at a place of a loom, by the loom's path or shipped name.

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
    return plan(job, loom, known, installed_rules())


def plan(
    job: Job,
    loom: Loom,
    catalogue: Catalogue,
    rules: Sequence[Rule],
    conditions: Conditions | None = None,
) -> Plan:
    """Settle a job, prove the result, and put it into words."""
    prover = Prover(loom, catalogue, job)
    currents = Currents(prover, conditions)
    choice = settle(job, loom, catalogue, rules, prover, currents)
    proof = prover.prove(choice.chosen.candidate.loom)
    return describe(job, loom, catalogue, choice, prover, proof, currents)


def sheet_job(
    name: str | Path | None,
    catalogue: Catalogue,
    ticks: Ticks | None = None,
    *,
    kit: Sequence[KitLead] = (),
) -> BenchSheet:
    """Plan a job as ``plan_job`` does, and work out what is taken to the vehicle, or what is left of it.

    Raises InputError also where what is ticked is not in the plan.
    """
    job, loom = read_job(name or DEMONSTRATION, catalogue)
    job = _with_kit(job, kit)
    planned, work = _sheet(job, loom, catalogue, is_demonstration=name is None)
    if ticks is None:
        return planned
    ids, to_mend = ticked_ids(planned, ticks.done), mends(work.names, ticks.found)
    turned_out = as_it_turned_out(job, ticks.found, catalogue)
    now = planned
    if turned_out != job:
        now, _ = _sheet(turned_out, loom, catalogue, is_demonstration=name is None)
    return half_done(now, ids, planned, to_mend)


def _with_kit(job: Job, kit: Sequence[KitLead]) -> Job:
    """A job with the leads of a kit as stock beside its own."""
    return job.model_copy(update={"stock": (*job.stock, *as_stock(kit))}) if kit else job


def _sheet(
    job: Job, loom: Loom, catalogue: Catalogue, *, is_demonstration: bool
) -> tuple[BenchSheet, WorkList]:
    """Settle a job, prove the result, and work out what is taken to the vehicle."""
    prover = Prover(loom, catalogue, job)
    currents = Currents(prover)
    choice = settle(job, loom, catalogue, installed_rules(), prover, currents)
    candidate = choice.chosen.candidate
    proof = prover.prove(candidate.loom)
    plan = describe(job, loom, catalogue, choice, prover, proof, currents)
    work = work_list(job, loom, catalogue, candidate, prover.facts)
    facts_after = conductor_facts(candidate.loom, catalogue, prover.compiled)
    shown = replace(plan, is_demonstration=is_demonstration)
    return bench_sheet(shown, work, job, catalogue, facts_after), work


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
    work = work_list(job, loom, catalogue, candidate, prover.facts)
    steps = work.steps()
    usual = frozenset(_alike(step) for step in steps)
    reporter = Reporter(loom, after, (prover.before.net, prover.network(after)))
    asked = dict.fromkeys(_question(n) for n in choice.notes if isinstance(n, Question))
    unproven = _unproven(prover, proof, reporter) if steps else ()
    questions = (*asked, *unproven)
    behaviours = (*reporter.missing(proof.faults), *reporter.behaviours(proof.findings))
    lines = tuple(strain_lines(currents.strains(after), currents.before, after, reporter.at))
    strained = currents.faults(after, thorough=True)
    road, road_why = judge_road(behaviours, proof.hazards, lines, bool(questions))
    return Plan(
        job=job.job,
        title=job.title or job.job,
        loom=loom.title or loom.loom,
        is_demonstration=False,
        verdict=judge((*proof.faults, *strained), bool(questions), bool(choice.unsettled)),
        road=road,
        road_why=road_why,
        cards=work.cards(steps),
        steps=steps,
        behaviours=behaviours,
        hazards=tuple(reporter.hazards(proof.hazards)),
        unsettled=choice.unsettled,
        questions=questions,
        remarks=(
            *_remarks(choice, loom, after, catalogue, job),
            *drain_remarks(currents.strains(after), currents.before, after),
            *_parking(proof, reporter, job),
        ),
        cautions=CAUTIONS,
        not_seen=loom.not_seen,
        alternatives=tuple(
            _alternative(a, loom, catalogue, job, usual, reporter.title, prover.facts)
            for a in choice.alternatives
        ),
        proof=ProofLine(
            proof.positions,
            proof.start_states,
            prover.solved,
            proof.compared,
            choice.looms_judged,
            proof.seconds,
        ),
        minutes=round(sum(step.minutes for step in steps), 1),
        is_proven_cheapest=choice.is_proven_cheapest,
        strains=lines,
        currents=_covered(currents, loom, after, reporter),
        reasoning=job.reasoning or "",
    )


def work_list(job: Job, loom: Loom, catalogue: Catalogue, candidate: Candidate, facts: Facts) -> WorkList:
    """The steps of a settled loom in their order; ``facts`` say what each conductor was before."""
    after = candidate.loom
    return WorkList(
        loom,
        after,
        candidate.steps,
        catalogue,
        job,
        facts,
        lambda operations: minutes(operations, after, catalogue, job.minutes),
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
    )


def judge(faults: Sequence[Fault], has_questions: bool, is_unsettled: bool) -> Verdict:
    """The worst that applies: unsafe, unsettled, measure, losses, no-loss.

    What only wears or dims is told beside the verdict: nothing is lost by it.
    """
    open_faults = [
        fault
        for fault in faults
        if not fault.accepted and not (fault.strain and fault.strain.kind in WEARING)
    ]
    if any(fault_weight(open_faults)[:1]):
        return "unsafe"
    if is_unsettled:
        return "unsettled"
    if has_questions:
        return "measure"
    return "losses" if open_faults else "no-loss"


def exit_status(result: Plan) -> int:
    """0 if nothing is lost and nothing is open, 1 otherwise."""
    return 0 if result.verdict == "no-loss" else 1


def _remarks(
    choice: Choice, before: Loom, after: Loom, catalogue: Catalogue, job: Job
) -> tuple[RemarkLine, ...]:
    """What the rules remark, and what is noted of parts that are fitted and wires that are handled."""
    found = [RemarkLine(n.text, n.why.rule, n.why.source) for n in choice.notes if isinstance(n, Remark)]
    own = [at for at, there in after.places.items() if before.places.get(at) != there]  # what remedies fit
    for place in dict.fromkeys((*(swap.at for swap in job.swaps if swap.at in after.places), *own)):
        part = catalogue.parts[after.places[place].part]
        if part.note:
            found.append(RemarkLine(f"{after.place_title(place)}: {part.note}", "catalogue", part.source))
    found += _wire_notes(choice, before)
    return tuple(dict.fromkeys(found))


def _wire_notes(choice: Choice, before: Loom) -> Iterator[RemarkLine]:
    """Yield a line for each wire that a step handles and of which the loom notes something."""
    for step in choice.chosen.candidate.steps:
        wire = getattr(step.operation, "wire", None)
        if isinstance(wire, str) and wire in before.wire_index and (note := before.find(wire).note):
            text = f"{wire_words(before.find(wire))} ({wire}): {note}"
            yield RemarkLine(text, "loom", "what the loom notes of this wire")


def _parking(proof: Proof, reporter: Reporter, job: Job) -> Iterator[RemarkLine]:
    """Yield a line for each cam that the job has to do with and that still comes to rest as before."""
    swapped = {swap.at for swap in job.swaps}
    cams = {(f.what, f.at) for f in proof.findings if f.kind == "cam"}
    for what, at in sorted(cams):
        findings = [f for f in proof.findings if (f.what, f.at) == (what, at)]
        touched = at in swapped or any(n.rpartition("/")[0] in swapped for f in findings for n in f.names)
        if touched and all(f.outcome == "kept" for f in findings):
            text = f"{reporter.title(at)}: works as before: {what}, from wherever they are (computed)"
            yield RemarkLine(text, "proof", "computed, every position and start state")


def _unproven(prover: Prover, proof: Proof, reporter: Reporter) -> Iterator[QuestionLine]:
    """Yield one question on the loads that work neither before nor after: of them nothing is proven.

    Most often the description lacks a wire, or the earth of the battery: "as before" would be no comfort.
    """
    works_now = {(f.at, f.what) for f in proof.findings if f.outcome != "kept" and is_on(f.after)}
    loads = [key for key in drawn_but_never_working(prover.before, prover.catalogue) if key not in works_now]
    if not loads:
        return
    named = ", ".join(f"{does} ({reporter.title(place)})" for place, does in loads)
    yield QuestionLine(
        f"whether these work at all: {named}. In this loom as it is described they never do, so nothing is "
        "proven of them",
        "voltmeter from the live terminal of each to its earth, switched on; then ohms from its earth to the "
        "body, battery off",
        "before anything is taken apart",
        (
            ("they work", "a wire, an earth or a mounting is missing in the loom: add it and plan again"),
            ("they do not", "find that fault first: it cannot be told from one that the work brings"),
        ),
        "proof",
        "computed, every position and start state",
    )


def _question(question: Question) -> QuestionLine:
    return QuestionLine(
        question.about,
        question.where,
        question.how,
        question.answers,
        question.why.rule,
        question.why.source,
    )


def _alternative_title(alternative: Alternative, own: Sequence[PlanStep]) -> str:
    """What is done in an alternative, not what it answers: its own first step that says so."""
    if alternative.job is not None or not own:
        return alternative.title
    telling = [step for step in own if step.do not in ("piggyback", "re-end", "extend", "cover", "remove")]
    telling.sort(key=lambda step: (alternative.why.rule not in step.because, step.do == "add"))
    first = (telling or own)[0].text.partition(";")[0]
    if alternative.title in TRADES:
        return f"{alternative.title}: {first}"
    return alternative.title if alternative.why.rule == "choice" else first


def _alike(step: PlanStep) -> str:
    """The text of a step without what depends on the order: equal for equal steps of two plans."""
    return _NEW_WIRE.sub("", _IN_TURN.sub("", step.text))


def _alternative(
    alternative: Alternative,
    loom: Loom,
    catalogue: Catalogue,
    job: Job,
    usual: frozenset[str],
    title: Callable[[str], str],
    facts: Facts,
) -> AlternativeLine:
    """An alternative beside a plan whose steps have the ``usual`` texts."""
    candidate = alternative.judged.candidate
    other = work_list(alternative.job or job, loom, catalogue, candidate, facts).steps()
    own = tuple(step for step in other if step.do != CONNECT and _alike(step) not in usual)
    return AlternativeLine(
        title=_alternative_title(alternative, own),
        minutes=round(sum(step.minutes for step in other), 1),
        steps=tuple(_IN_TURN.sub("", step.text) for step in own),
        loses=tuple(
            strain_words(f.strain, candidate.loom)
            if f.strain
            else fault_words(f, title(f.at.partition(":")[0]) if f.at else "")
            for f in alternative.judged.faults
            if not (f.strain and f.strain.kind in WEARING)
        ),
        because=alternative.why.rule,
        facts=alternative.why.facts,
    )
