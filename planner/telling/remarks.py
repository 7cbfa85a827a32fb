"""What a plan remarks: the rules, notes of parts and wires, motors that park as before."""

from collections.abc import Iterator, Sequence

from planner.engine.settle import Choice
from planner.messages import later, tr
from planner.model.catalogue import Catalogue
from planner.model.elements import AnyElement, Gauge, Lamp, Led
from planner.model.fitted_fuse import fuse_words, rated_for_good
from planner.model.former_fuse import fuses_with_former
from planner.model.job import Job
from planner.model.loom import Loom, Place
from planner.model.need import Remark
from planner.model.plan import (
    RemarkLine,
)
from planner.model.wording import address_words, small, wire_words
from planner.proof.behaviour import is_on
from planner.proof.prove import Proof, Prover
from planner.proof.report import Reporter
from planner.proof.unproven import drawn_on_one_side

# From one size of fuse to the next it is no more: 7.5 A for 5, 15 A for 10. Common practice, no source.
MUCH_LARGER = 1.5


def remark_lines(
    choice: Choice, before: Loom, after: Loom, catalogue: Catalogue, job: Job
) -> tuple[RemarkLine, ...]:
    """What the rules remark, and what is noted of parts that are fitted and wires that are handled."""
    found = [
        RemarkLine(n.text, n.why.rule, n.why.source, n.is_open, n.but)
        for n in choice.notes
        if isinstance(n, Remark)
    ]
    own = [at for at, there in after.places.items() if before.places.get(at) != there]  # what remedies fit
    for place in dict.fromkeys((*(swap.at for swap in job.swaps if swap.at in after.places), *own)):
        part = catalogue.parts[after.places[place].part]
        if part.note:
            found.append(RemarkLine(f"{after.place_title(place)}: {part.note}", "catalogue", part.source))
    found += _removal_notes(job, before, after, catalogue)
    found += _larger_fuses(job, before, after, catalogue)
    found += _supply_notes(before, after)
    found += _wire_notes(choice, before)
    return tuple(dict.fromkeys(found))


def _supply_notes(before: Loom, after: Loom) -> Iterator[RemarkLine]:
    """Yield what the other pole earthed asks of everything in the vehicle that the loom does not show."""
    if before.supply.earthed != after.supply.earthed:
        text = tr(
            "the other pole is earthed: whatever is in the vehicle and not in this loom minds it too, so "
            "look for it and take its feed off before the battery goes on: radio, clock, anything "
            "electronic (it burns), an ammeter (it shows the other way), a fan or wiper motor with magnets "
            "(it runs backwards), an ignition coil (its two leads change places)"
        )
        yield RemarkLine(text, "supply", later("common practice, no source"))


def _removal_notes(job: Job, before: Loom, after: Loom, catalogue: Catalogue) -> Iterator[RemarkLine]:
    """Yield what comes out with nothing in its place: a warning that never showed is missed by no proof."""
    for swap in job.swaps:
        if swap.fit == "nothing" and swap.at in before.places:
            place, part = before.place_title(swap.at), catalogue.parts[before.places[swap.at].part]
            text = tr(
                "{place} comes out with nothing in its place ({title}): what it was there for is gone, "
                "unless a new part does it",
                place=place,
                title=small(part.title),
            )
            told = {e.does for e in part.inside if isinstance(e, Lamp | Led | Gauge)}
            still = {getattr(e, "does", None) for at in after.places.values() for e in _inside(catalogue, at)}
            but = tr("nothing tells any more what the {place} told", place=place) if told - still else ""
            yield RemarkLine(text, "job", later("as the job asks"), but=but)


def _inside(catalogue: Catalogue, place: Place) -> Sequence[AnyElement]:
    return catalogue.parts[place.part].inside


def _larger_fuses(job: Job, before: Loom, after: Loom, catalogue: Catalogue) -> Iterator[RemarkLine]:
    """Yield where a new part has a much larger fuse than was there: it is computed for the wires alone."""
    for swap in job.swaps:
        place = swap.at
        for at, now, was in fuses_with_former(before, after, catalogue.parts, place):
            carried = rated_for_good(was.amps, was.marked)
            if rated_for_good(now.amps, now.marked) > MUCH_LARGER * carried:
                text = tr(
                    "{at}: its fuse carries far more than the one before it, {new} for {old}; the wires "
                    "behind it were computed for it, but it guards the loads and switches there less: a "
                    "smaller fuse that carries its load guards them better",
                    at=address_words(after, at),
                    new=fuse_words(now.amps, now.marked),
                    old=fuse_words(was.amps, was.marked),
                )
                but = tr("a fuse carries far more than the one before it, and guards less")
                yield RemarkLine(text, "fuse", later("common practice, no source"), but=but)


def _wire_notes(choice: Choice, before: Loom) -> Iterator[RemarkLine]:
    """Yield a line for each wire that a step handles and of which the loom notes something."""
    for step in choice.chosen.candidate.steps:
        wire = getattr(step.operation, "wire", None)
        if isinstance(wire, str) and wire in before.wire_index and (note := before.find(wire).note):
            text = f"{wire_words(before.find(wire))} ({wire}): {note}"
            yield RemarkLine(text, "loom", "what the loom notes of this wire")


def parking_remarks(proof: Proof, reporter: Reporter, job: Job) -> Iterator[RemarkLine]:
    """Yield a line for each cam that the job has to do with and that still comes to rest as before."""
    swapped = {swap.at for swap in job.swaps}
    cams = {(f.what, f.at) for f in proof.findings if f.kind == "cam"}
    for what, at in sorted(cams):
        findings = [f for f in proof.findings if (f.what, f.at) == (what, at)]
        touched = at in swapped or any(n.rpartition("/")[0] in swapped for f in findings for n in f.names)
        if touched and all(f.outcome == "kept" for f in findings):
            text = f"{reporter.title(at)}: works as before: {what}, from wherever they are (computed)"
            yield RemarkLine(text, "proof", "computed, every position and start state")


def half_drawn_remarks(prover: Prover, proof: Proof, reporter: Reporter) -> Iterator[RemarkLine]:
    """Yield a line on the loads of which only one side is drawn: of these nothing is proven."""
    works_now = {(f.at, f.what) for f in proof.findings if f.outcome != "kept" and is_on(f.after)}
    loads = [key for key in drawn_on_one_side(prover.before, prover.catalogue) if key not in works_now]
    if loads:
        named = ", ".join(f"{does} ({reporter.title(place)})" for place, does in loads)
        text = tr(
            "of these only one side is drawn, so in this loom they never work and nothing is proven of them: "
            "{loads}; add the wire of the other side and plan again",
            loads=named,
        )
        yield RemarkLine(text, "proof", later("computed, every position and start state"))
