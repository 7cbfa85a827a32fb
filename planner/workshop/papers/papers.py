"""What belongs in the vehicle's papers: what is exchanged, tied back, and not as it was."""

from collections.abc import Iterator, Sequence

from planner.messages import tr
from planner.model.delta import (
    ChangeFuse,
    Cover,
    Cut,
    Extend,
    ReEnd,
    Renew,
)
from planner.model.fitted_fuse import fuse_words_at
from planner.model.loom import split_address
from planner.model.measures import length_words
from planner.model.wording import small
from planner.workshop.ends.names import Names, end_words
from planner.workshop.ends.old_fuses import grown_fuses
from planner.workshop.ends.piggybacks import blades_left_free
from planner.workshop.ends.tied_back import live_words
from planner.workshop.papers.replay import Done

_NOWHERE = (
    "loose",
    "unknown",
    "joint",
)  # what is tied back is told under its own heading


def exchanged(names: Names, done: Sequence[Done]) -> Iterator[str]:
    """Yield the supply, every part and every fuse that another has taken the place of."""
    before, after = names.before, names.after
    if before.supply != after.supply:
        yield tr("the supply: was {was}, is {now}", was=before.supply.words, now=after.supply.words)
    for name, place in before.places.items():
        old, there = small(names.catalogue.parts[place.part].title), after.places.get(name)
        if there is None:
            yield tr("{place}: {old}, taken out", place=before.place_title(name), old=old)
        elif there.part != place.part:
            new = small(names.catalogue.parts[there.part].title)
            title = after.place_title(name)
            yield tr("{place}: {new}, in place of {old}", place=title, new=new, old=old)
            if grown := grown_fuses(names, name):
                yield tr("{place}: fuses that carry more than before, {fuses}", place=title, fuses=grown)
    for operation in (operation for one in done for operation in one.operations):
        if isinstance(operation, ChangeFuse) and operation.printed is not None:
            yield tr(
                "the fuse at {at}: {amps:g} A, in place of one of {old}",
                at=names.at(operation.at),
                amps=operation.amps,
                old=fuse_words_at(before, names.catalogue.parts, operation.at, operation.printed),
            )


def tied_back(names: Names, done: Sequence[Done]) -> Iterator[str]:
    """Yield every end and terminal that is covered when the work is done."""
    for one in done:
        operation = one.task.operation
        if isinstance(operation, Cover) and operation.wire is not None:
            said = tr(
                "{wire}, was on {at}",
                wire=names.named(operation.wire, operation.end or 0),
                at=names.was_at(operation.at),
            )
            live = live_words(names, one.task)
            yield f"{said}; {live}" if live else said
        elif isinstance(operation, Cover):
            yield tr("bare terminal {at}: covered", at=names.at(operation.at))
        elif isinstance(operation, Renew):
            wire = names.named(operation.wire, operation.first)
            yield tr(
                "both ends of the old wire where {wire} was laid anew, if it was not drawn out", wire=wire
            )
    for at in blades_left_free(names).values():
        yield tr("the free blade of the piggyback on {at}: capped", at=names.at(at))


def fittings_changed(names: Names, done: Sequence[Done]) -> Iterator[str]:
    """Yield every original end or wire that is not as it was: first what is done to it, then where it is."""
    for one in done:
        for operation in one.operations:
            if isinstance(operation, ReEnd):
                usual = tr("an end that fitted the old terminal")
                yield tr(
                    "{wire} for {at}: had {was}, has {now}",
                    wire=names.named(operation.wire, operation.end),
                    at=names.at(operation.at),
                    was=end_words(operation.old) if operation.old else usual,
                    now=end_words(operation.fitting),
                )
            elif isinstance(operation, Extend):
                wire = names.named(operation.wire, operation.end)
                yield tr("{wire}: longer by {length}", wire=wire, length=length_words(operation.metres))
            elif isinstance(operation, Renew):
                old = tr(" and ").join(f"{size:g}" for size in sorted(set(operation.old)))
                wire = names.named(operation.wire, operation.first)
                yield tr("{wire}: was {old} mm2, is {new}", wire=wire, old=old, new=names.size(operation.mm2))
            elif isinstance(operation, Cut):
                wire = names.named(operation.wire, operation.end)
                at = names.was_at(operation.was)
                yield tr(
                    "{wire}: its terminal for {at} is cut off, its two wires are joined", wire=wire, at=at
                )
    yield from _elsewhere(names)


def _elsewhere(names: Names) -> Iterator[str]:
    """Yield every original end that is on another terminal, or joined to a lead of a part."""
    for wire in names.after.wires:
        for number, end in enumerate(wire.ends):
            was = names.before.end_address(wire.wire, number)
            if was is None or (split_address(end.at)[0] in _NOWHERE and end.at not in names.joiners):
                continue
            named, at = names.named(wire.wire, number), names.at(end.at)
            moved = was != end.at and split_address(was)[0] not in _NOWHERE
            said = (
                tr("{wire}: was on {was}, is in {at}")
                if end.at in names.joiners
                else tr("{wire}: was on {was}, is on {at}")
            ).format(wire=named, was=names.was_at(was), at=at)
            if names.is_own_lead(end.at):
                said = said if moved else tr("{wire} on {at}", wire=named, at=at)
                yield tr("{end}: its old end is cut off, it is joined to the part's own lead", end=said)
            elif moved:
                yield said
