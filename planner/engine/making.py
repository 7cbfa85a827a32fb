"""How a new wire could be made, seen from a case: its colour, its fittings, the leads on the bench."""

from collections.abc import Collection

from planner.engine.case import Case
from planner.engine.sizing import SIZES, most_mm2
from planner.model.joiners import BARE, is_new_joiner, joiner_end
from planner.model.loom import Wire, split_address
from planner.model.wording import colour_words

NOMINAL_COLOUR = "BK"
TRACERS = ("WH", "YE", "GN", "BU", "VT", "RD", "BN", "GY", "OG", "BK")  # most readable first
TAIL_METRES = 0.15  # from a joiner to the terminal beside it; common practice, no source
BODY_RING = "ring-6"  # the usual body screw; common practice, no source


def count_leads_left(case: Case, number: int) -> int:
    """How many finished leads of one entry of the stock the plan has not used."""
    lead = case.job.stock[number]
    if f"stock-{number}" not in case.taken:
        return lead.count
    alike = (lead.colour, lead.mm2, lead.metres)
    new = [w for w in case.loom.wires if w.wire not in case.before.wire_index]
    return lead.count - sum((w.colour[0], w.mm2[0], w.metres[0]) == alike for w in new)


def lengthened_by(case: Case, wire: Wire) -> tuple[tuple[Wire, int], ...]:
    """What a new wire lengthens: the wires with which it shares a joiner, with their ends there."""
    joints = [end.at for end in wire.ends if end.at.startswith("joint:")]
    return tuple(there for at in joints for there in case.wires_at(at) if there[0].wire != wire.wire)


def is_tail(case: Case, wire: Wire) -> bool:
    """Whether a new wire leads from a new joiner to a terminal where all that is joined there was before.

    All of it reaches there, so the joiner lies beside the terminal, if that is no further than the others.
    """
    joints = [end.at for end in wire.ends if is_new_joiner(case.before, end.at)]
    targets = [end.at for end in wire.ends if end.at not in joints]
    places = {split_address(at)[0] for at in targets}
    if any((terminal := case.terminal(at)) is not None and terminal.further_metres for at in targets):
        return False
    others = lengthened_by(case, wire)
    return len(joints) == 1 and all(
        other.wire in case.before.wire_index
        and {split_address(case.before.find(other.wire).ends[n].at)[0]} == places
        for other, n in others
    )


def mm2_for_all(case: Case, tail: Wire, mm2: float) -> float:
    """The size of a tail by which a switch feeds several wires; 0 where it carries one of them at a time.

    Thinner than all of them together it would be the weakest of a way that no fuse guards; what feeds the
    switch brings no more than its own size.
    """
    if not is_tail(case, tail):
        return 0.0
    targets = [end.at for end in tail.ends if not is_new_joiner(case.before, end.at)]
    place, mark = split_address(targets[0])
    part = case.part(place)
    was = [case.before.find(wire.wire).ends[n].at for wire, n in lengthened_by(case, tail)]
    is_fed_by_it = all(case.facts.at(at).fuse is None and case.is_switched_at(at) for at in was)
    if part is None or mark not in part.joints or not is_fed_by_it:
        return 0.0
    others = [f"{place}:{other}" for other in part.terminals if other != mark]
    brought = max((w.end_mm2(n) for at in others for w, n in case.wires_at(at)), default=mm2)
    most = most_mm2(case, targets)
    return min(next((size for size in SIZES if size >= mm2), mm2), brought, most.value if most else mm2)


def colours_near(case: Case, wire: Wire) -> frozenset[str]:
    """The colours of other wires at the places of a wire's ends."""
    parts = {place: case.part(place) for place in {split_address(end.at)[0] for end in wire.ends}}
    return frozenset(
        other.end_colour(number)
        for place, part in parts.items()
        for mark in (part.terminals if part else ())
        for other, number in case.wires_at(f"{place}:{mark}")
        if other.wire != wire.wire
    )


def named_colour(case: Case, role: str | None) -> str | None:
    """The colour that the loom's scheme names for a role, else the role's own; None if neither does."""
    entry = case.role_of(role)
    return case.loom.scheme.get(role or "") or (entry.colour if entry else None)


def usual_colour(case: Case, role: str | None) -> str:
    """The colour of a new wire of a role: the one that is named for it, else the nominal one."""
    return named_colour(case, role) or NOMINAL_COLOUR


def is_colour_of_another(case: Case, colour: str, role: str | None) -> bool:
    """Whether the loom's scheme gives a colour to another role."""
    return any(given == colour for other, given in case.loom.scheme.items() if other != role)


def suits_colour(case: Case, colour: str, role: str | None, near: Collection[str]) -> bool:
    """Whether a wire of a role may have a colour, given those of its neighbours.

    The colour that is named for the role, if it is free; else, or where none is named, one that no other
    role has in the scheme - with the base colour of the named one.
    """
    named = named_colour(case, role)
    if colour in near:
        return False
    if named is not None and named not in near:
        return colour == named
    is_variant = named is None or colour.partition("/")[0] == named.partition("/")[0]
    return is_variant and not is_colour_of_another(case, colour, role)


def goes_on(case: Case, fitting: str, address: str) -> bool:
    """Whether an end with this fitting goes on at an address; the body takes rings, an old joiner all."""
    terminal = case.terminal(address)
    if terminal is not None and terminal.by == "wire":
        return terminal.takes(fitting)
    if terminal is not None and terminal.usual_end.startswith("ring-"):
        return fitting == terminal.usual_end
    if terminal is not None or split_address(address)[0] == "earth":
        return fitting.startswith("ring-")
    return not is_new_joiner(case.before, address) or fitting == joiner_end(case.loom, address)


def choose_fitting(case: Case, address: str, body_ring: str) -> str | None:
    """The fitting a new end is given at an address; None where nothing is known of it.

    Under a mounting screw goes a ring of its size, or the ring for the body if its size is not known.
    """
    terminal = case.terminal(address)
    if terminal is not None:
        usual = terminal.usual_end
        return usual if terminal.by == "wire" or usual.startswith("ring-") else body_ring
    if is_new_joiner(case.before, address):
        return joiner_end(case.loom, address)
    if address.startswith("joint:"):
        beside = [case.before.find(w).ends[n].fitting for w, n in case.before.ends_at.get(address, ())]
        return next((fitting for fitting in beside if fitting), BARE)
    return body_ring if split_address(address)[0] == "earth" else None


def free_colour(case: Case, role: str | None, nominal: Wire) -> tuple[str, str]:
    """The usual colour of a role, or one of its tracers that no neighbour and no other role has, and why."""
    usual = usual_colour(case, role)
    if role == "31":
        return usual, f"{colour_words(usual)}, the colour of earth wires"
    taken = colours_near(case, nominal)
    if usual not in taken:
        return usual, f"{colour_words(usual)}, the usual colour, free at both ends"
    base = usual.split("/")[0]
    variants = (f"{base}/{tracer}" for tracer in TRACERS if tracer != base)
    free = [colour for colour in variants if suits_colour(case, colour, role, taken)]
    if not free:
        return usual, f"{colour_words(usual)}; every tracer is taken here, so tag both ends"
    places = " and ".join(dict.fromkeys(case.loom.place_title(split_address(e.at)[0]) for e in nominal.ends))
    return free[0], f"{colour_words(free[0])}, because {colour_words(usual)} is taken at {places}"
