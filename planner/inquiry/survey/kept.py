"""Which places of a whole loom a swap has to do with: its own, what is wired to them, what they serve."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from planner.model.catalogue import Catalogue
from planner.model.delta import copy_loom
from planner.model.elements import Coil, EndUser, Flasher, Gauge, Source
from planner.model.facts import ConductorFact, Facts
from planner.model.job import Job, Wish
from planner.model.loom import End, Loom, Wire, split_address
from planner.model.reach import conductor
from planner.proof.facts import conductor_facts


@dataclass(frozen=True, slots=True)
class Kept:
    """What a partial loom has of a whole one, and the terminals at which nothing may differ from it.

    ``beside`` are places that only share a conductor: they may be left out.
    """

    places: frozenset[str]
    watched: frozenset[str]
    beside: frozenset[str] = frozenset()


def find_kept(job: Job, whole: Loom, catalogue: Catalogue, facts: Facts) -> Kept:
    """Find what a partial loom for a job has to have; ``facts`` look past ammeters.

    They are the swapped ones, those on one conductor with them, every place where a conductor is no longer
    what it is once the swapped parts are out, flashers that feed them, and where the job wishes something. A
    change of supply has to do with every part, a source with whatever it may feed, and a part in a new place
    with whatever may feed it: then all are kept.
    """
    loom = past_ammeters(whole, catalogue)
    swapped = [swap.at for swap in job.swaps if swap.at in loom.places]
    if job.supply_after(loom) != loom.supply or not swapped or _has(Source, job, loom, catalogue):
        return Kept(frozenset(loom.places), frozenset())
    served = _served(loom, catalogue, facts, swapped)
    needed = {*swapped, *(split_address(address)[0] for address in served)}
    needed |= set(_flashers(loom, catalogue, facts, swapped))
    for wish in (*job.wants, *job.accepts):
        needed |= set(_wished(wish, loom, catalogue, needed))
    kept = {*needed, *_neighbours(whole, swapped)}
    own = {f"{place}:{mark}" for place in swapped for _, _, mark in loom.ends_of_place(place)}
    return Kept(frozenset(kept), frozenset(own | served), frozenset(kept - needed))


def without(loom: Loom, places: Collection[str]) -> Loom:
    """A loom with some parts out; what was on them hangs loose, each end by itself."""
    wires = tuple(
        wire.model_copy(
            update={
                "ends": tuple(
                    end.model_copy(update={"at": "loose"}) if split_address(end.at)[0] in places else end
                    for end in wire.ends
                )
            }
        )
        for wire in loom.wires
    )
    left = {place: fitted for place, fitted in loom.places.items() if place not in places}
    return copy_loom(loom, wires=wires, places=left)


def past_ammeters(loom: Loom, catalogue: Catalogue) -> Loom:
    """A loom in which each ammeter is bridged by a wire: what lies behind it is live all the same."""
    bridges: list[Wire] = []
    for place, fitted in loom.places.items():
        for element in catalogue.parts[fitted.part].inside:
            if isinstance(element, Gauge) and element.is_in_series:
                ends = tuple(End(at=f"{place}:{node}") for node in element.between)
                bridges.append(
                    Wire(wire=f"bridge{len(bridges)}", colour=("BK",), mm2=(1,), metres=(1,), ends=ends)
                )
    return copy_loom(loom, wires=(*loom.wires, *bridges)) if bridges else loom


def joined_wires(loom: Loom, address: str) -> Iterator[tuple[str, int]]:
    """Yield every end of the wires at an address, and of those that joiners add to them."""
    seen: set[str] = set()
    queue = [address]
    joints: set[str] = set()
    while queue:
        for name, _ in loom.ends_at.get(queue.pop(), ()):
            if name in seen:
                continue
            seen.add(name)
            for number, end in enumerate(loom.find(name).ends):
                yield name, number
                if end.at.startswith("joint:") and end.at not in joints:
                    joints.add(end.at)
                    queue.append(end.at)


def _neighbours(loom: Loom, places: Collection[str]) -> Iterator[str]:
    """Yield every place on one conductor with a terminal of some places: what shares its fuse as well."""
    for place in places:
        for mark in dict.fromkeys(terminal for _, _, terminal in loom.ends_of_place(place)):
            for address in conductor(loom, f"{place}:{mark}"):
                if split_address(address)[0] in loom.places:
                    yield split_address(address)[0]


def _has(kind: type, job: Job, loom: Loom, catalogue: Catalogue) -> bool:
    """Whether a part that comes out or goes in has an element of a kind."""
    parts = [loom.places[swap.at].part for swap in job.swaps if swap.at in loom.places]
    parts += [swap.fit for swap in job.swaps if swap.fit in catalogue.parts]
    return any(isinstance(element, kind) for part in parts for element in catalogue.parts[part].inside)


def _flashers(loom: Loom, catalogue: Catalogue, facts: Facts, places: Collection[str]) -> Iterator[str]:
    """Yield each flasher that feeds one of some places: it beats with their watts, or does not."""
    for place, fitted in loom.places.items():
        if place in places or not any(
            isinstance(element, Flasher) for element in catalogue.parts[fitted.part].inside
        ):
            continue
        left = conductor_facts(without(loom, [place]), catalogue)
        if any(
            _nature(left.at(f"{at}:{mark}")) != _nature(facts.at(f"{at}:{mark}"))
            for at in places
            for _, _, mark in loom.ends_of_place(at)
        ):
            yield place


def _served(loom: Loom, catalogue: Catalogue, facts: Facts, places: Collection[str]) -> set[str]:
    """The terminals that are live or earthed in other positions when some parts are out.

    A relay or flasher whose feed is gone works no more, so it counts as out itself and what it serves counts.
    """
    out = set(places)
    while True:
        left = conductor_facts(without(loom, out), catalogue)
        changed = {
            address
            for address in left.by_address
            if split_address(address)[0] in loom.places
            and _nature(left.at(address)) != _nature(facts.at(address))
        }
        served = {split_address(address)[0] for address in changed}
        idle = {p for p in served - out if _is_worked_by(loom, catalogue, p, changed)}
        if not idle:
            return changed
        out |= idle


def _nature(fact: ConductorFact) -> tuple[object, ...]:
    return fact.live, fact.earthed, fact.depends_on


def _is_worked_by(loom: Loom, catalogue: Catalogue, place: str, changed: Collection[str]) -> bool:
    part = catalogue.parts[loom.places[place].part]
    nodes = {n for e in part.inside if isinstance(e, Coil | Flasher) for n in e.between}
    return any(f"{place}:{node}" in changed for node in nodes)


def _wished(wish: Wish, loom: Loom, catalogue: Catalogue, kept: Collection[str]) -> Iterator[str]:
    """Yield the places a wish names; if it names none, those that have such a load, unless one is kept."""
    if wish.at:
        yield from (place for place in wish.at if place in loom.places)
        return
    having = [
        place
        for place, fitted in loom.places.items()
        if any(isinstance(e, EndUser) and e.does == wish.what for e in catalogue.parts[fitted.part].inside)
    ]
    if not any(place in kept for place in having):
        yield from having
