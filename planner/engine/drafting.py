"""Operations, drafted for a case: new wires and feeds, parts put in line."""

from collections.abc import Iterable, Iterator

from planner.engine.case import Case
from planner.engine.costs import MINUTES, MINUTES_A_METRE, MINUTES_BEHIND_TRIM
from planner.engine.earthing import earth_near
from planner.engine.feeding import FeedPoint, find_feed_points, point_words
from planner.engine.making import NOMINAL_COLOUR
from planner.model.delta import Add, Insert, Operation, Piggyback, new_end
from planner.model.loom import USUAL_INSULATION, Loom, Place, Wire, split_address
from planner.model.part import Mounting, Part
from planner.model.reach import conductor, hanging_on
from planner.model.surroundings import bundle_between
from planner.model.wording import address_words, small

LEAD_METRES = 0.15  # the short lead of a part put in line; common practice, no source


def draft_wire(
    case: Case, from_: str, to: str, role: str | None = None, *, tagged: bool = False, mm2: float = 0.0
) -> Add:
    """A new wire between two addresses, its making still open (``Make`` settles it).

    ``mm2`` is the least size that its current asks for, if that is known.
    """
    entry = case.role_of(role)
    metres, _ = case.wire_length(from_, to)
    name = "new-" + "+".join(part.replace(":", "..").replace("/", ".") for part in (from_, to))
    number = sum(1 for wire in case.loom.wires if wire.wire.startswith(name))
    wire = Wire.model_construct(
        wire=name if not number else f"{name}+{number}",
        colour=(entry.colour if entry and entry.colour else NOMINAL_COLOUR,),
        mm2=(max(mm2, entry.mm2 if entry else 1.5),),
        metres=(metres,),
        ends=(new_end(from_, None), new_end(to, None)),
        known="measured",
        bundle=bundle_between(case.loom, from_, to),
        insulation=USUAL_INSULATION,
        note=None,
    )
    return Add(wire, role, tagged)


def draft_insert(
    case: Case, wire: str, end: int, part: Part, enters: str, leaves: str, mounting: Mounting = "insulated"
) -> Insert:
    """A two-terminal part put in line just before the terminal that an end is on."""
    at = case.loom.find(wire).ends[end].at
    beside, _ = split_address(at)
    number = 1
    while f"{beside}.{part.family}-{number}" in case.loom.places:
        number += 1
    name = f"{beside}.{part.family}-{number}"
    zone = case.zone(at) or ""
    title = f"{small(part.title)} at {address_words(case.loom, at)}"
    lead = draft_wire(case, f"{name}:{leaves}", at, case.role(at)).wire
    goes_on = case.loom.find(wire)  # no thinner than the wire it goes on from: the same fuse guards both
    laid = {"colour": (goes_on.end_colour(end),), "mm2": (goes_on.end_mm2(end),), "metres": (LEAD_METRES,)}
    lead = lead.model_copy(update={"wire": f"lead-{name}", **laid})
    place = Place(part=part.part, zone=zone, mounting=mounting, title=title, known="measured")
    return Insert(wire, end, at, name, place, enters, lead)


def draft_tail(case: Case, wire: str, end: int, at: str, most_mm2: float) -> tuple[Operation, ...]:
    """Both wires of an end in a joiner; from there, if there is none yet, a tail that the terminal takes."""
    joint = f"joint:{at.replace(':', '.')}"
    put = case.put(wire, end, joint)
    if any(other.at == joint for there, _ in case.wires_at(at) for other in there.ends):
        return (put,)
    mm2 = min(max(case.loom.find(wire).areas_at(end)), most_mm2)
    return (put, draft_wire(case, joint, at, case.role(at), mm2=mm2))


def find_nearest_tap(case: Case, addresses: Iterable[str], near: str) -> str | None:
    """Where on a conductor one more end costs least: with room, with a piggyback, or else by a joiner.

    If what is near drives the conductor, all its current comes in there: no thin branch of it will do.
    """

    def cost(address: str) -> tuple[float, str]:
        metres, trim = case.wire_length(near, address)
        is_free = case.room(address) > 0 and case.terminal(address) is not None
        tab = 0.0 if is_free else MINUTES["piggyback"]  # or a joiner with one more way
        return tab + MINUTES_A_METRE * metres + (MINUTES_BEHIND_TRIM if trim else 0.0), address

    known = [a for a in addresses if case.terminal(a) is not None or case.room(a) > 0]
    role = case.role_of(case.role(near))
    if role is not None and case.switches(near):
        enough = min(role.mm2, max((_mm2_at(case, a) for a in known), default=0.0))
        known = [a for a in known if _mm2_at(case, a) >= enough]
    free = [a for a in known if case.room(a) > 0 or case.takes_piggyback(a)]
    return min(free or known, key=cost, default=None)


def _mm2_at(case: Case, address: str) -> float:
    """The thickest wire on an address; a bare one sets no limit."""
    return max((wire.end_mm2(number) for wire, number in case.wires_at(address)), default=float("inf"))


def draft_tap(case: Case, from_: str, to: str, at: str, role: str | None) -> tuple[Operation, ...]:
    """A new wire between two terminals, with a piggyback first where ``at``, one of them, is full.

    Where none fits, the full terminal is a need of its own: a joiner answers it.
    """
    add = draft_wire(case, from_, to, role)
    return (Piggyback(at), add) if case.room(at) < 1 and case.takes_piggyback(at) else (add,)


def choose_feeds(case: Case, at: str, nature: str) -> list[tuple[FeedPoint, tuple[Operation, ...]]]:
    """The best two ways to bring a terminal a feed or an earth from an untouched conductor.

    A fused point goes before an unfused one, but no one fuse is given to both headlamps, unless they are
    fed in another way too: then it is the fuse of a flash.
    """
    points = [p for p in find_feed_points(case, nature, at) if p.has_room or p.takes_piggyback]
    is_output = case.role(at) == "B+"  # what charges the battery goes by no fuse
    if is_output or len({lamp.place for lamp in hanging_on(case.loom, case.catalogue, at, "head")}) > 1:
        points = [p for p in points if p.fact.fuse is None]
    elif any(p.fact.fuse for p in points):
        points = [p for p in points if p.fact.fuse]
    behind: dict[tuple[str, str], FeedPoint] = {}  # of a fuse's two blades the better one
    for point in points:
        behind.setdefault((split_address(point.at)[0], point.fact.fuse or point.at), point)
    best = list(behind.values())[:2]
    return [(point, draft_tap(case, point.at, at, point.at, case.role(at))) for point in best]


def draft_restorations(case: Case, at: str, was: str) -> Iterator[tuple[tuple[Operation, ...], str]]:
    """Yield ways to give a terminal what an old one was joined to: a feed, an earth, a conductor."""
    fact = case.facts.at(was)
    if fact.nature in ("always-live", "ignition-live"):
        for point, operations in choose_feeds(case, at, fact.nature):
            yield operations, f"{point_words(case, point)} is {fact.nature.replace('-', ' ')}, as that was"
    elif fact.nature == "earth":
        yield (draft_wire(case, at, earth_near(case, at), "31"),), "that went to earth"
    else:
        now = conductor(case.loom, at)
        other = find_nearest_tap(case, (a for a in fact.addresses if a not in now), at)
        if other is not None:
            words = f"{address_words(case.loom, other)} was on the same conductor"
            yield draft_tap(case, other, at, other, case.role(at)), words


def applied(loom: Loom, operations: Iterable[Operation]) -> Loom:
    """A loom after some operations."""
    for operation in operations:
        loom = operation.apply(loom)
    return loom
