"""A part that a new wire puts on a fuse with other loads: said at the step, for one fault makes all dead."""

from collections.abc import Iterator

from planner.messages import tr
from planner.model.delta import Add
from planner.model.loom import split_address
from planner.model.reach import conductor, consumers_beyond, fed_past
from planner.workshop.ends.arrivals import arrivals
from planner.workshop.ends.names import Names
from planner.workshop.tasks.task import Task

_MOST_NAMED = 5


def shared_fuse(names: Names, task: Task) -> Iterator[str]:
    """Yield which fuse a part hangs on from a step on, and what else does, if it did not before."""
    if not isinstance(task.operation, Add):
        return
    for to, was in arrivals(names, task):
        place, fuse = split_address(to)[0], names.facts.at(was).fuse
        box = split_address(fuse or "")[0]
        if fuse is None or place not in names.after.places or box not in names.after.places or place == box:
            continue
        own = consumers_beyond(names.after, names.catalogue, to, without=_on_the_wire(names, to))
        fed = {(load.place, load.does) for load in own}
        others = [what for at, what in _all_on(names, fuse) if (at, what) not in fed]
        if _hung_on(names, place, fuse) or not others:
            continue
        said = list(dict.fromkeys(others))
        beside = ", ".join(said[:_MOST_NAMED])
        if len(said) > _MOST_NAMED:
            beside = tr("{loads} and more", loads=beside)
        yield tr(
            "the {place} hangs on fuse {fuse} from now on, with what else is on it ({loads}): when it blows, "
            "all of that is dead",
            place=names.after.place_title(place),
            fuse=names.at(fuse),
            loads=beside,
        )


def _all_on(names: Names, fuse: str) -> list[tuple[str, str]]:
    """The loads, by place and what they do, that were dead without a fuse before; those of a flasher too."""
    before, catalogue = names.before, names.catalogue
    alone = names.facts.fused_loads.get(fuse, ())
    beyond = consumers_beyond(before, catalogue, fuse) - fed_past(before, catalogue, fuse)
    more = sorted((load.place, load.does) for load in beyond if load.does)
    return list(dict.fromkeys((*alone, *more)))


def _on_the_wire(names: Names, at: str) -> frozenset[str]:
    """What else is on the conductor of a terminal: what the part passes on goes another way."""
    return frozenset(conductor(names.after, at)) - {at}


def _hung_on(names: Names, place: str, fuse: str) -> bool:
    """Whether the part at a place was on that fuse before."""
    ends = names.before.ends_of_place(place) if place in names.before.places else ()
    return any(names.facts.at(f"{place}:{mark}").fuse == fuse for _, _, mark in ends)
