"""What has to be measured: doubts about the description, questions of the rules, what is unproven."""

from collections.abc import Iterator

from planner.messages import later, tr
from planner.model.catalogue import Catalogue
from planner.model.elements import Coil
from planner.model.job import Job
from planner.model.loom import Loom
from planner.model.need import Question
from planner.model.part import MEASURED_SOURCE
from planner.model.plan import QuestionLine
from planner.model.wording import small
from planner.proof.behaviour import is_on
from planner.proof.prove import Proof, Prover
from planner.proof.report import Reporter
from planner.proof.unproven import drawn_but_never_working


def question_line(question: Question) -> QuestionLine:
    """A question that a rule opens."""
    return QuestionLine(
        question.about,
        question.where,
        question.how,
        question.answers,
        question.why.rule,
        question.why.source,
        question.after_work,
    )


def doubt_questions(loom: Loom) -> Iterator[QuestionLine]:
    """Yield the questions about the description itself, as they stand in the loom."""
    for doubt in loom.doubts:
        answers = tuple(doubt.answers.items())
        yield QuestionLine(doubt.about, doubt.where, doubt.how, answers, "description", doubt.source)


def unproven_questions(prover: Prover, proof: Proof, reporter: Reporter) -> Iterator[QuestionLine]:
    """Yield one question on the loads that work neither before nor after: of them nothing is proven.

    Most often the description lacks a wire, or the earth of the battery: "as before" would be no comfort.
    """
    works_now = {(f.at, f.what) for f in proof.findings if f.outcome != "kept" and is_on(f.after)}
    loads = [key for key in drawn_but_never_working(prover.before, prover.catalogue) if key not in works_now]
    if not loads:
        return
    named = ", ".join(f"{does} ({reporter.title(place)})" for place, does in loads)
    yield QuestionLine(
        tr(
            "whether these work at all: {loads}. In this loom as it is described they never do, so nothing "
            "is proven of them",
            loads=named,
        ),
        tr(
            "voltmeter from the live terminal of each to its earth, switched on; then ohms from its earth to "
            "the body, battery off"
        ),
        tr("before anything is taken apart"),
        (
            (
                tr("they work"),
                tr("a wire, an earth or a mounting is missing in the loom: add it and plan again"),
            ),
            (
                tr("they do not"),
                tr("find that fault first: it cannot be told from one that the work brings"),
            ),
        ),
        "proof",
        later("computed, every position and start state"),
    )


def measured_part_questions(job: Job, catalogue: Catalogue, reporter: Reporter) -> Iterator[QuestionLine]:
    """Yield a question on each fitted part that is known from a meter alone: it tells joints, no ratings."""
    for swap in job.swaps:
        part = catalogue.parts.get(swap.fit)
        if part is not None and part.source == MEASURED_SOURCE:
            yield QuestionLine(
                tr(
                    "what the {part} at {place} is made to carry, and how its wires go on",
                    part=small(part.title),
                    place=reporter.title(swap.at),
                ),
                tr("the part itself, and what its maker prints of it"),
                tr(
                    "read volts, amps, ends and mounting off it; what its coil needs, from a supply that can "
                    "be turned up"
                )
                if any(isinstance(element, Coil) for element in part.inside)
                else tr("read volts, amps, ends and mounting off it"),
                (
                    (tr("as its file says"), tr("the plan stands")),
                    (tr("otherwise, or nothing is printed"), tr("write it into its file and plan again")),
                ),
                "proof",
                later("a meter tells joints and ohms only"),
            )
