"""What the vehicle's papers name as added: wires, tabs, joiners and studs, parts, sleeving, boots."""

from collections.abc import Iterator, Sequence

from planner.messages import tr
from planner.model.delta import Add, Cut, Extend, Fit, Insert, Join, Piggyback, ReEnd, Renew
from planner.model.joiners import stud_mm2
from planner.model.wording import colour_words, small
from planner.workshop.ends.names import Names
from planner.workshop.ends.piggybacks import blades_left_free
from planner.workshop.materials.guarded import boots_on, is_sleeved
from planner.workshop.materials.pieces import Piece
from planner.workshop.papers.replay import Done


def links_added(names: Names, done: Sequence[Done], made: Sequence[Piece]) -> Iterator[str]:
    """Yield every wire, tab, joiner, part and guard that was not there before; ``made`` are the wires cut."""
    seen: set[str] = set()
    for one in done:
        operation = one.task.operation
        if isinstance(operation, Add) and operation.wire.wire not in seen:
            seen.add(operation.wire.wire)
            wire = names.wire(operation.wire.wire)
            ends = tr(" to ").join(names.at(end.at) for end in wire.ends)
            yield f"{names.shown(wire.wire)} {colour_words(wire.leg_colour(0))}: {ends}"
        elif isinstance(operation, Insert):
            part = small(names.catalogue.parts[operation.place.part].title)
            yield tr(
                "{part} in {wire} at {at}",
                part=part,
                wire=names.named(operation.wire, operation.end),
                at=names.at(operation.was),
            )
        elif isinstance(operation, Piggyback):
            yield tr("piggyback on {at}", at=names.at(operation.at))
        elif isinstance(operation, Cut):
            is_stud = stud_mm2(names.after, operation.joint)
            said = tr("M6 stud in {wire}, was on {at}") if is_stud else tr("joiner in {wire}, was on {at}")
            at = names.was_at(operation.was)
            yield said.format(wire=names.named(operation.wire, operation.end), at=at)
        elif isinstance(operation, Extend):
            named, at = names.named(operation.wire, operation.end), names.at(operation.at)
            yield tr("piece joined on to {wire}, for {at}", wire=named, at=at)
        elif isinstance(operation, Fit) and operation.at not in names.before.places:
            yield tr("{place}: new part", place=names.after.place_title(operation.at))
    yield from _joiners(names)
    yield from _guards(names, done, made)


def _joiners(names: Names) -> Iterator[str]:
    """Yield every joiner and stud that is made for several wires, with all that meet there."""
    for at, joiner in names.joiners.items():
        wires = ", ".join(names.named(wire, end) for wire, end in names.after.ends_at[at])
        said = tr("M6 stud for {wires}") if joiner.stud_mm2 else tr("joiner for {wires}")
        yield said.format(wires=wires)


def _guards(names: Names, done: Sequence[Done], made: Sequence[Piece]) -> Iterator[str]:
    """Yield sleeving and boots over what is live without a fuse."""
    for name in dict.fromkeys(piece.name for piece in made if is_sleeved(names, piece)):
        yield tr("sleeving over {wire}", wire=name)
    for at in dict.fromkeys(at for one in done for at in boots_on(names, one.task)):
        yield tr("insulating boot on {at}", at=names.at(at))


def goes_with(names: Names, number: int, done: Done) -> Iterator[str]:
    """Yield what else comes out when a step is taken back: a joiner that is empty then, caps, a boot."""
    operation = done.task.operation
    for joiner in names.joiners.values():
        if joiner.steps[0] == number and not isinstance(operation, Join):
            yield tr("take the M6 stud out") if joiner.stud_mm2 else tr("take the joiner out")
    if isinstance(operation, ReEnd | Extend) and boots_on(names, done.task):
        yield tr("its boot comes off with the ring")
    if isinstance(operation, Renew) and names.wire(operation.wire).bundle:
        yield tr("open its bundle for that, and wrap it again")
    if (at := blades_left_free(names).get(number)) is not None:
        yield tr("take the cap off the piggyback on {at} first", at=names.at(at))
