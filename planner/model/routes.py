"""How far it is from one place to another, by the shortest route a wire can take."""

import heapq

from planner.model.loom import Loom

NOMINAL_METRES = 2.0  # where no way is drawn; common practice, no source
WITHIN_ZONE_METRES = 0.4  # a lead between two places of one zone; common practice, no source
SLACK = 1.15  # wires are not pulled tight; common practice, no source
TRIM_PENALTY_METRES = 1.0  # what a metre behind trim is worth in bench work; common practice, no source


def route(loom: Loom, from_zone: str, to_zone: str) -> tuple[float, bool] | None:
    """Length in metres of the cheapest route between two zones and whether it goes behind trim.

    None if the loom's routes do not join the two zones.
    """
    found = _cheapest(loom, from_zone, to_zone)
    return None if found is None else found[:2]


def zones_on_the_way(loom: Loom, from_: str, to: str) -> tuple[str, ...]:
    """The zones through which a new wire runs between two addresses; empty where nobody knows."""
    start, end = zone_of(loom, from_), zone_of(loom, to)
    found = _cheapest(loom, start, end) if start and end else None
    return found[2] if found else ()


def _cheapest(loom: Loom, from_zone: str, to_zone: str) -> tuple[float, bool, tuple[str, ...]] | None:
    """Length, whether it goes behind trim, and the zones from one to the other."""
    if from_zone == to_zone:
        return 0.0, False, (from_zone,)
    queue: list[tuple[float, str, float, bool, tuple[str, ...]]] = [
        (0.0, from_zone, 0.0, False, (from_zone,))
    ]
    done: set[str] = set()
    while queue:
        cost, zone, metres, trim, zones = heapq.heappop(queue)
        if zone == to_zone:
            return metres, trim, zones
        if zone in done:
            continue
        done.add(zone)
        for way in loom.routes:
            if zone in (way.from_, way.to):
                beyond = way.to if way.from_ == zone else way.from_
                further = cost + way.metres + (TRIM_PENALTY_METRES if way.behind_trim else 0.0)
                through = (*zones, beyond)
                heapq.heappush(
                    queue, (further, beyond, metres + way.metres, trim or way.behind_trim, through)
                )
    return None


def zone_of(loom: Loom, address: str) -> str | None:
    """The zone an address is in; None for an end whose place is not known."""
    head, _, tail = address.partition(":")
    if head == "earth":
        return tail or None
    if head == "joint":
        return _zone_of_joint(loom, address)
    place = loom.places.get(head)
    return place.zone if place else None


def _zone_of_joint(loom: Loom, joint: str) -> str | None:
    """The zone of the place or body point that the shortest leg leads to from a joiner."""
    best: tuple[float, str] | None = None
    for wire, number in loom.ends_at.get(joint, ()):
        record = loom.find(wire)
        for beside in (number - 1, number + 1):
            if 0 <= beside < len(record.ends) and not record.ends[beside].at.startswith("joint:"):
                zone = zone_of(loom, record.ends[beside].at)
                metres = record.leg_metres(min(number, beside))
                if zone is not None and (best is None or (metres, zone) < best):
                    best = (metres, zone)
    return best[1] if best else None


def wire_length(loom: Loom, from_: str, to: str) -> tuple[float, bool]:
    """Metres of a new wire between two addresses, slack included, and whether it goes behind trim.

    Where no way is drawn, or nobody knows where an end is, the length is nominal and has to be measured.
    """
    here = "earth" in (from_, to)  # the body is at hand everywhere
    return length_between(loom, *(("", "") if here else (zone_of(loom, from_), zone_of(loom, to))))


def length_between(loom: Loom, start: str | None, end: str | None) -> tuple[float, bool]:
    """The same between two zones; None for one that nobody knows."""
    found = None if start is None or end is None else route(loom, start, end)
    metres, trim = found or (NOMINAL_METRES, False)
    return round((metres + WITHIN_ZONE_METRES) * SLACK, 2), trim
