"""Feeds past what carries too much: from the battery side, by a fuse of their own."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from planner.engine.case import Case
from planner.engine.drafting import applied, draft_tail, draft_wire
from planner.engine.feeding import FeedPoint, find_feed_points
from planner.engine.sizing import amps_beyond, fuse_at, least_mm2, mm2_for_tabs, no_crimp_for_both
from planner.engine.suiting import parts_of
from planner.model.delta import ChangeFuse, EndRef, Fit, Operation, Piggyback, ReEnd
from planner.model.elements import Fuse, Source
from planner.model.loom import Place, split_address
from planner.model.surroundings import Surroundings, ambient_c

# Push-on piggybacks are sold for conductors up to the yellow sleeve's lower end: common practice, no source.
PIGGYBACK_MM2 = 4.0
HOLDER_FAMILY = "in-line"
Live = Literal["always-live", "ignition-live"]
ROLES: dict[Live, str] = {"always-live": "30", "ignition-live": "15"}  # of a new wire from there


@dataclass(frozen=True)
class OwnFeed:
    """A feed from the battery side, by a fuse of its own."""

    operations: tuple[Operation, ...]
    point: FeedPoint
    mm2: float
    rated_amps: float
    behind: str  # the fused side


@dataclass(frozen=True)
class Split:
    """A wire that comes off a fuse and gets one of its own.

    ``amps`` is what its loads take by their ratings, all on at once; ``rest`` those of what stays.
    """

    operations: tuple[Operation, ...]
    words: str
    amps: float
    rest: float


def draft_own_feed(case: Case, to: str, amps: float, nature: Live) -> OwnFeed | None:
    """A feed for a terminal from an unfused conductor that bears it, by a fuse of its own in a holder."""
    own = draft_own_fuse(case, to, amps, nature)
    if own is None:
        return None
    fitted = replace(case, loom=applied(case.loom, own.operations))
    wire = draft_wire(fitted, own.behind, to, "live-fused", mm2=own.mm2)
    return replace(own, operations=(*own.operations, wire))


def draft_own_fuse(case: Case, to: str, amps: float, nature: Live) -> OwnFeed | None:
    """A fuse in a holder beside an unfused conductor, fed from it; ``behind`` is its fused side."""
    rated = case.catalogue.standards.fuse_for_load(amps)
    holders = [
        (part, element)
        for part in parts_of(case, HOLDER_FAMILY)
        for element in part.inside
        if isinstance(element, Fuse) and rated is not None and element.amps >= rated.value
    ]
    found = _choose_point(case, to, rated.value, amps, nature) if rated is not None and holders else None
    if rated is None or found is None:
        return None
    (point, mm2), (holder, fuse) = (
        found,
        max(holders, key=lambda h: h[1].amps),
    )  # it takes any blade fuse up to that
    beside = split_address(to)[0]
    title = case.loom.place_title(beside)
    name = free_name(case, f"{beside}.fuse")
    place = Place(
        part=holder.part,
        zone=case.zone(point.at) or case.zone(to) or "",
        mounting="insulated",
        title=f"{'own fuse beside' if fuse_at(case, to) else 'fuse of'} the {title.partition(',')[0]}",
        known="measured",
    )
    fit = Fit(name, place)
    fitted = replace(case, loom=fit.apply(case.loom))
    fed, behind = (f"{name}:{mark}" for mark in fuse.between)
    tab = (Piggyback(point.at),) if not point.has_room and point.takes_piggyback else ()
    wire = draft_wire(fitted, point.at, fed, ROLES[nature], mm2=mm2)
    operations = (fit, ChangeFuse(behind, rated.value, None), *tab, wire)
    return OwnFeed(operations, point, mm2, rated.value, behind)


def draft_splits(case: Case, at: str) -> Iterator[Split]:
    """Yield each wire on the fused side of a fuse, taken off and given a fuse of its own beside its feed.

    Only where another wire stays, and the conductor before was live always or with the ignition.
    """
    nature, ends = case.facts.at(at).nature, case.ends_at(at)
    if nature not in ("always-live", "ignition-live") or len(ends) < 2:
        return
    for wire, end in ends:
        apart = case.put(wire, end, "loose").apply(case.loom)
        others = [e.at for n, e in enumerate(case.loom.find(wire).ends) if n != end]
        amps, rest = amps_beyond(case, others, apart), amps_beyond(case, [at], apart)
        own = draft_own_fuse(case, at, amps, nature) if amps and rest else None
        if own is not None:
            fitted = replace(case, loom=applied(case.loom, own.operations))
            operations = (*own.operations, *put_end(fitted, wire, end, own.behind))
            yield Split(operations, case.end_now(wire, end), amps, rest)


def put_end(case: Case, wire: str, end: int, to: str) -> Iterator[Operation]:
    """Yield what puts an end on a terminal, with another fitting first where its own does not go on.

    Of two wires that no terminal of that width is made for, what puts a tail from a joiner there.
    """
    there = case.loom.find(wire).ends[end]
    now, new = case.terminal(there.at), case.terminal(to)
    fitting = there.fitting or (now.usual_end if now is not None else None)
    has_to_be_made = new is not None and fitting is not None and not new.takes(fitting)
    both = no_crimp_for_both(case, to, case.loom.find(wire).areas_at(end)) if has_to_be_made else None
    if both is not None:
        yield from draft_tail(case, wire, end, to, both.value)
        return
    yield case.put(wire, end, to)
    if has_to_be_made and new is not None:
        yield ReEnd(wire, end, to, new.usual_end, there.fitting)


def piggyback_bears(case: Case, at: str, ends: Sequence[EndRef]) -> bool:
    """Whether a piggyback fits on a terminal and is no bottleneck: of two thick wires one feeds the other."""
    thick = [end for end in ends if case.loom.find(end[0]).end_mm2(end[1]) > PIGGYBACK_MM2]
    return case.takes_piggyback(at) and len(thick) < 2


def _choose_point(
    case: Case, to: str, rated: float, amps: float, nature: Live
) -> tuple[FeedPoint, float] | None:
    """The best unfused point that bears a feed, and the size with which it stands its fuse and its tabs."""
    for point in find_feed_points(case, nature, to):
        addresses = (point.at, to)
        wire = least_mm2(case, rated, Surroundings(ambient_c(case.loom, *addresses)), addresses)
        tabs = mm2_for_tabs(case, amps, addresses)
        if point.fact.fuse is None and wire and tabs and _bears(case, point.at, max(wire, tabs)):
            return point, max(wire, tabs)
    return None


def _bears(case: Case, at: str, mm2: float) -> bool:
    """Whether a point is a feed, a source's pole, or has a wire on it as thick as what it is to feed."""
    place, mark = split_address(at)
    part = case.part(place)
    is_pole = part is not None and any(isinstance(e, Source) and mark in e.between for e in part.inside)
    return at in case.loom.feeds or is_pole or any(w.end_mm2(n) >= mm2 for w, n in case.wires_at(at))


def battery_poles(case: Case) -> Iterator[tuple[str, str]]:
    """Yield the live pole and the earthed pole of each battery that is fitted."""
    for place, fitted in case.loom.places.items():
        for element in case.catalogue.parts[fitted.part].inside:
            if isinstance(element, Source) and not element.when:
                yield f"{place}:{element.between[0]}", f"{place}:{element.between[1]}"


def free_name(case: Case, name: str) -> str:
    """A name for a new place that no place has yet."""
    number, free = 1, name
    while free in case.loom.places:
        number += 1
        free = f"{name}-{number}"
    return free
