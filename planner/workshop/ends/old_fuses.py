"""The fuses that sit, or sat, in a part of a loom, by what is printed on them."""

from planner.messages import tr
from planner.model.elements import Fuse
from planner.model.fitted_fuse import fuse_as_fitted, fuse_words, rated_for_good
from planner.model.former_fuse import fuses_with_former
from planner.model.loom import Loom, split_address
from planner.model.wording import mark_words
from planner.workshop.ends.names import Names


def fuses_at(names: Names, loom: Loom, place: str) -> dict[str, Fuse]:
    """The fuses of the part at a place of a loom, each as fitted, by the address of its fused side."""
    part = names.catalogue.parts[loom.places[place].part]
    fuses = (element for element in part.inside if isinstance(element, Fuse))
    return {f"{place}:{fuse.between[1]}": fuse_as_fitted(loom, place, fuse) for fuse in fuses}


def fuses_said(names: Names, loom: Loom, place: str) -> str:
    """Them in words: ``8 A on 1 and 3, 16 A on 2``; empty if there are none."""
    alike: dict[str, list[str]] = {}
    for at, fuse in fuses_at(names, loom, place).items():
        alike.setdefault(fuse_words(fuse.amps, fuse.marked), []).append(mark_words(split_address(at)[1]))
    return ", ".join(
        tr("{amps} on {marks}", amps=amps, marks=tr(" and ").join(marks)) for amps, marks in alike.items()
    )


def grown_fuses(names: Names, place: str) -> str:
    """Where a new part has a larger fuse than was there, in words: ``1: 25 A for 8 A``; empty if nowhere."""
    return ", ".join(
        tr(
            "{mark}: {new} for {old}",
            mark=mark_words(split_address(at)[1]),
            new=fuse_words(now.amps, now.marked),
            old=fuse_words(was.amps, was.marked),
        )
        for at, now, was in _grown(names, place)
    )


def grown_over_wires(names: Names, place: str) -> str:
    """Those of them that let more through than a wire behind them stands: ``2 (one of 15 A would do there)``.

    Empty if there are none.
    """
    over = {
        mark_words(split_address(at)[1]): names.over_wires[at]
        for at, _, _ in _grown(names, place)
        if at in names.over_wires
    }
    said = (
        tr("{mark} (one of {amps:g} A would do there)", mark=mark, amps=amps) if amps else mark
        for mark, amps in over.items()
    )
    return tr(" and ").join(said)


def _grown(names: Names, place: str) -> list[tuple[str, Fuse, Fuse]]:
    """The fuses of a new part that carry more than those before: address, new fuse, old one."""
    return [
        (at, now, was)
        for at, now, was in fuses_with_former(names.before, names.after, names.catalogue.parts, place)
        if rated_for_good(now.amps, now.marked) > rated_for_good(was.amps, was.marked)
    ]
