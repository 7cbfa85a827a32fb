"""The verdict on a part that is to take another's place, and the reasons for it in sentences."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from planner.model.control_words import (
    crossed_controls,
    renamed_controls,
    undecided_controls,
    worked_by_itself,
    worked_together,
)
from planner.model.elements import Contact, Control, Diode, Fuse
from planner.model.part import MEASURED_SOURCE, Part
from planner.model.purpose import another_kind
from planner.model.wording import HELD
from planner.proof.part_behaviours import BehaviourRow
from planner.proof.part_bench import Bench, Pairing
from planner.proof.part_differences import NOT_THERE
from planner.proof.part_facts import SUPPLY
from planner.proof.part_ratings import Rating
from planner.proof.part_terminals import TerminalLine, is_mirrored, same_place

ComparisonVerdict = Literal["drop-in", "fits with rewiring", "fits with losses", "does not fit"]
# What works at any volts; a fuse is only a piece of wire until it blows.
_ANY_VOLTS = (Contact, Control, Diode, Fuse)


@dataclass(frozen=True)
class Evidence:
    """All that the verdict stands on."""

    bench: Bench
    pairing: Pairing
    terminals: Sequence[TerminalLine]
    behaviours: Sequence[BehaviourRow]
    ratings: Sequence[Rating]


def judge(evidence: Evidence) -> tuple[ComparisonVerdict, tuple[str, ...]]:
    """The verdict and its reasons, the weightiest first."""
    misfits, losses = tuple(_misfits(evidence)), tuple(_losses(evidence))
    work, remarks = tuple(_work(evidence)), tuple(_remarks(evidence))
    verdict: ComparisonVerdict = "drop-in"
    if misfits:
        return "does not fit", (*misfits, *losses)
    if losses:
        verdict = "fits with losses"
    elif work:
        verdict = "fits with rewiring"
    alike = () if losses else ("It does all that the original does, in every position.",)
    ends = ("Every end goes on as it is, to the same place or mark.",) if verdict == "drop-in" else ()
    return verdict, (*misfits, *losses, *alike, *ends, *work, *remarks)


def _misfits(evidence: Evidence) -> Iterator[str]:
    """Yield why the other part cannot take the original's place at all."""
    original, other = evidence.bench.original, evidence.bench.other
    kinds = another_kind(original, other)
    if kinds:
        yield f"It is another kind of part: {kinds[1]}, not {kinds[0]}."
    depends = any(not isinstance(e, _ANY_VOLTS) for e in (*original.inside, *other.inside))
    if original.volts != other.volts and depends and not _measured(evidence):
        yield f"It is made for {other.volts:g} V, the original for {original.volts:g} V."
    rows = [row for row in evidence.behaviours if row.original != NOT_THERE]
    if not evidence.pairing.pairs:
        yield "None of its terminals has the purpose of one of the original's."
    elif rows and not any(row.still_works for row in rows):
        yield "However its terminals are paired, nothing is left of what the original did."


def _measured(evidence: Evidence) -> list[Part]:
    """The parts that were made from readings, whose volts and ratings are nobody's word."""
    return [p for p in (evidence.bench.original, evidence.bench.other) if p.source == MEASURED_SOURCE]


def _losses(evidence: Evidence) -> Iterator[str]:
    """Yield what is not as it was."""
    for row in evidence.behaviours:
        if row.outcome == "lost":
            yield f"Lost: {row.what} ({row.original}){_when(row)}."
        elif row.outcome == "changed":
            yield f"Changed: {row.what}, {row.original}; now {row.other}{_when(row)}."
        elif row.outcome == "unintended":
            yield f"Not so on the original: {row.what}, {row.other}{_when(row)}."
    alone = [line for line in evidence.terminals if line.original is not None and line.other is None]
    for marks, work in _by_work(alone):
        yield f"No partner for {marks}: {work}."
    for rating in evidence.ratings:
        if rating.outcome == "weaker":
            yield _rated(rating)
    bench = evidence.bench
    for condition, control in worked_by_itself(bench.original, bench.other, bench.settings.match):
        yield (
            f"{condition} of the vehicle works the original, and '{control}' is a switch of its own: if it "
            f"is worked so too, leave the control out and write when: {{{condition}: ...}} at its contacts."
        )


def _work(evidence: Evidence) -> Iterator[str]:
    """Yield what has to be done to the ends and the wires before it."""
    original, other = evidence.bench.original, evidence.bench.other
    clashes = [
        f"{mark} ({old.role}, there {new.role})"
        for mark, old in original.terminals.items()
        if (new := other.terminals.get(mark)) and old.role and new.role and old.role != new.role
    ]
    if clashes:
        yield f"Equal marks with another purpose: {_listed(clashes)}. Go by purpose, never by mark."
    turned = [
        f"{p.original}"
        for p in evidence.pairing.pairs
        if p.original == p.other
        and same_place(original.terminals[p.original], other.terminals[p.other]) is False
    ]
    if is_mirrored(original, other, evidence.pairing):
        yield "Its face is the mirror image of the original's: go by purpose, never by place."
    elif turned:
        yield f"The face is laid out otherwise ({', '.join(turned)}): right by mark, wrong by place."
    for name, others, taken in undecided_controls(original, other, evidence.bench.settings.match):
        yield f"'{name}' may be {others} of the other: taken to be '{taken}'. Try each with a meter."
    if other.must_not_be_earthed and not original.must_not_be_earthed:
        yield "Its case must not touch the body: mount it insulated."
    if other.must_not_be_crossed and not original.must_not_be_crossed:
        yield "Its leads must not be crossed: the wrong way round it is harmed."
    if original.mounts and other.mounts and original.mounts != other.mounts:
        yield f"It is held {HELD[other.mounts]}, the original {HELD[original.mounts]}."
    ends = [line.original for line in evidence.terminals if line.original and line.other and line.work]
    if ends:
        yield f"Work on the ends at {_listed(ends)}: see the terminals."
    for marks, work in _by_work([line for line in evidence.terminals if line.original is None]):
        yield f"Only on the other, {marks}: {work}."
    for rating in evidence.ratings:
        if rating.outcome == "heavier":
            yield _rated(rating)


def _remarks(evidence: Evidence) -> Iterator[str]:
    """Yield what does not count against it and should be known."""
    original, other = evidence.bench.original, evidence.bench.other
    for sentence in renamed_controls(original, other, evidence.bench.settings.match):
        yield f"{sentence[0].upper()}{sentence[1:]}."
    for sentence in crossed_controls(original, other):
        yield f"{sentence[0].upper()}{sentence[1:]}: if its file mixes the names up, exchange them there."
    for sentence in worked_together(original, other, evidence.bench.settings.match):
        yield f"{sentence[0].upper()}{sentence[1:]}."
    called = [
        f"{p.original} is {p.other}"
        for p in evidence.pairing.pairs
        if p.original != p.other
        and same_place(original.terminals[p.original], other.terminals[p.other])
        and original.terminals[p.original].by == "wire"
    ]
    if called:
        yield f"At the same places the marks differ: {', '.join(called)}."
    for row in evidence.behaviours:
        if row.outcome == "gained" and row.still_works:
            yield f"Gained: {row.what}, {row.original}; now {row.other}{_when(row)}."
        elif row.outcome == "gained" and not row.what.startswith(SUPPLY):
            yield f"Gained: {row.what} ({row.other}){_when(row)}."
    for part in _measured(evidence):
        yield (
            f"{part.part} was made from readings: what it carries, its ends and its volts (written as "
            f"{part.volts:g} V) were not measured. Look for them on the part."
        )
    if original.volts != other.volts and not _measured(evidence):
        yield f"It is made for {other.volts:g} V, not {original.volts:g} V; nothing inside depends on it."
    for rating in evidence.ratings:
        if rating.outcome == "other" and rating.note:
            yield _rated(rating)


def _by_work(lines: Sequence[TerminalLine]) -> Iterator[tuple[str, str]]:
    """Yield the marks that need the same work, and the work."""
    alike: dict[str, list[str]] = {}
    for line in lines:
        if line.work:
            alike.setdefault("; ".join(line.work), []).append(line.original or line.other or "")
    for work, marks in alike.items():
        yield _listed(marks), work


def _listed(words: Sequence[str]) -> str:
    return " and ".join(filter(None, (", ".join(words[:-1]), words[-1])))


def _when(row: BehaviourRow) -> str:
    return "" if row.position == "always" else f", {row.position}"


def _rated(rating: Rating) -> str:
    return f"{rating.what}: {rating.original} on the original, {rating.other} on the other; {rating.note}."
