"""The way that feeds a load, in words: from where, through which switches, on which wires, to which earth."""

from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise

from planner.circuit.network import EARTH, node_of
from planner.inquiry.loom.account import Way
from planner.inquiry.loom.found import FoundLoom
from planner.inquiry.loom.natures import feed_words
from planner.model.loom import Wire
from planner.model.wording import colour_words, mark_words
from planner.proof.paths import LOAD, NO_JOINTS, Feeding, Position, Step, holds


def way_words(found: FoundLoom, at: str, feeding: Feeding, position: Position) -> Way:
    """One way of feeding a load at a place."""
    forth = [Step(step.end, step.start, step.through, step.guard) for step in reversed(feeding.feed)]
    return Way(
        source=_source(found, forth[0].start if forth else feeding.near, position),
        fuses=tuple(_fuses(found, forth)),
        through=tuple(_through(found, forth)),
        wires=tuple(_wires(found, forth)),
        earth=_earth(found, at, feeding.back),
    )


def _source(found: FoundLoom, node: str, position: Position) -> str:
    supply = next(s for s in found.view.net.supplies if s.node == node and holds(s.guard, position))
    if supply.label in found.loom.feeds:
        return feed_words(found, supply.label)
    return f"the {found.titles[supply.label.split(':')[1]]}"


def _fuses(found: FoundLoom, steps: Sequence[Step]) -> Iterator[str]:
    amps = {joint.label: joint.amps for joint in found.view.net.passes}
    for step in steps:
        if step.through[0] == "fuse" and step.through[1].startswith("fuse:"):
            address, rated = step.through[1].removeprefix("fuse:"), amps[step.through[1]]
            yield f"the fuse at {found.address(address)}" + (f" ({rated:g} A)" if rated else "")


def _through(found: FoundLoom, steps: Sequence[Step]) -> Iterator[str]:
    """Yield what is passed that may be open: contacts, flashers; and other loads."""
    for place, inside in groupby(steps, key=_place_of):
        passed = list(inside)
        if place and any(step.guard or step.through[0] in NO_JOINTS for step in passed):
            loads = dict.fromkeys(s.through[2] for s in passed if s.through[0] == LOAD)
            named = [does for does in loads if not does.startswith("#") and does not in found.titles[place]]
            lead = f"the {', '.join(named)} of " if named else ""
            yield f"{lead}the {found.titles[place]}{_marks(found, place, passed)}"


def _place_of(step: Step) -> str:
    """The place that a step leads through; what joins places has none."""
    kind = step.through[0]
    if kind in ("contact", LOAD):
        return step.through[1]
    if kind in NO_JOINTS or (kind == "fuse" and step.through[1].startswith("flasher:")):
        return step.through[1].removeprefix("flasher:").partition(":")[0]
    return ""


def _marks(found: FoundLoom, place: str, passed: Sequence[Step]) -> str:
    """Between which terminals, if both ends are terminals that are stamped."""
    terminals = found.part(place).terminals
    ends = [node.removeprefix(f"{place}:") for node in (passed[0].start, passed[-1].end)]
    if all(mark in terminals and terminals[mark].by == "wire" for mark in ends):
        return f" ({mark_words(ends[0])} to {mark_words(ends[1])})"
    return ""


def _wires(found: FoundLoom, steps: Sequence[Step]) -> Iterator[str]:
    """Yield the wires in order, those of one colour that follow one another together."""
    legs = [(_colour(found, step), step.through[1]) for step in steps if step.through[0] == "wire"]
    for colour, alike in groupby(legs, key=lambda leg: leg[0]):
        yield f"{colour} ({', '.join(dict.fromkeys(wire for _, wire in alike))})"


def _colour(found: FoundLoom, step: Step) -> str:
    wire = found.loom.find(step.through[1])
    return colour_words(wire.leg_colour(_leg(wire, step)))


def _leg(wire: Wire, step: Step) -> int:
    """Which leg of a wire a step goes along."""
    nodes = [node_of(end.at) for end in wire.ends]
    pairs = [{one, other} for one, other in pairwise(nodes)]
    wanted = {step.start, step.end}
    return pairs.index(wanted) if wanted in pairs else 0


def _earth(found: FoundLoom, at: str, steps: Sequence[Step]) -> str:
    """How a load gets to earth, as far as the body; where the body is not earthed, to the source."""
    nodes = [step.end for step in steps]
    here = steps[: nodes.index(EARTH) + 1] if EARTH in nodes else steps
    wires, passed = ", ".join(_wires(found, here)), ", ".join(_through(found, here))
    mounting = next((step.through[1] for step in here if step.through[0] == "mounting"), None)
    said = [f"by {wires}"] if wires else []
    said += [f"through {passed}"] if passed else []
    if mounting == at:
        said.append("by its own mounting")
    elif mounting is not None:
        said.append(f"to the mounting of the {found.titles[mounting]}")
    elif EARTH not in nodes:
        said.append("back to the source, not to the body")
    return ", ".join(said) or "at its own place"
