"""What carries a current, seen from a case: wire sizes, fuses, loads and what they take."""

from collections.abc import Iterable, Sequence

from planner.engine.case import Case
from planner.model.contacts import SwitchLoad
from planner.model.delta import ChangeFuse, Make, Operation, Renew
from planner.model.elements import AnyElement, EndUser, Fuse, Lamp, Led, Resistor, Winding
from planner.model.fitted_fuse import fuse_as_fitted, fused_side
from planner.model.loom import Loom, split_address
from planner.model.need import Fault
from planner.model.published import Published
from planner.model.reach import consumers_beyond
from planner.model.strain import Strain
from planner.model.surroundings import Surroundings, ambient_c, carries_for_good

FAR_OVER = 1.6
# Sizes that vehicle cable is sold in, mm2: ISO 6722; from memory.
SIZES = (0.5, 0.75, 1.0, 1.5, 2.5, 4.0, 6.0, 10.0, 16.0, 25.0, 35.0, 50.0)


def strain_of(case: Case, *kinds: str) -> Strain | None:
    """The strain that is asked about, if it is of one of some kinds."""
    strain = case.need.strain if isinstance(case.need, Fault) else None
    return strain if strain is not None and strain.kind in kinds else None


def far_over_on_tab(case: Case) -> Strain | None:
    """The strain of a push-on terminal, if it is worth new wires.

    UL 310 tests it with a current for its warmth, and with twice that in cycles: well past the middle between
    them. Below, moving an end is what it is worth.
    """
    strain = strain_of(case, "tab")
    return strain if strain is not None and strain.use > FAR_OVER else None


def amps_beyond(case: Case, addresses: Iterable[str], loom: Loom | None = None) -> float:
    """What the loads beyond some addresses take by their ratings, all on at once."""
    there = case.loom if loom is None else loom
    beyond = {load for at in addresses for load in consumers_beyond(there, case.catalogue, at)}
    return sum(load_amps(case, *load) for load in sorted({(load.place, load.does) for load in beyond}))


def most_mm2(case: Case, addresses: Iterable[str]) -> Published | None:
    """The thickest wire that goes on at all of some addresses; None where nothing published limits it."""
    fittings = {t.fitting for at in addresses if (t := case.terminal(at)) is not None and t.by == "wire"}
    limits = [limit for f in fittings if (limit := case.catalogue.standards.tab_most_mm2(f)) is not None]
    return min(limits, key=lambda limit: limit.value, default=None)


def no_crimp_for_both(case: Case, at: str, areas: Sequence[float]) -> Published | None:
    """The most mm2 that a terminal takes, where an end of two wires has more together; else None.

    No push-on terminal of its width is made for both: a joiner takes them, and a tail goes on.
    """
    most = most_mm2(case, (at,)) if len(areas) > 1 else None
    return most if most is not None and sum(areas) > most.value else None


def no_crimp_words(most: Published, areas: Sequence[float]) -> str:
    """That no terminal is made for both wires of an end, as a fact."""
    return (
        f"push-on terminals of this width are made for {most.value:g} mm2 at most, both its wires together "
        f"have {sum(areas):g}: no new one is made for both"
    )


def least_mm2(case: Case, amps: float, around: Surroundings, addresses: Iterable[str] = ()) -> float | None:
    """The thinnest wire that carries a current for good in its surroundings and goes on at some addresses.

    None if no size does both.
    """
    tables, most = case.catalogue.standards, most_mm2(case, addresses)
    mm2 = next((mm2 for mm2 in SIZES if carries_for_good(tables, mm2, around).value >= amps), None)
    return None if mm2 is None or (most is not None and mm2 > most.value) else mm2


def mm2_for_tabs(case: Case, amps: float, addresses: Iterable[str]) -> float | None:
    """The thinnest wire with which the tabs at some addresses are tested with a current; None if none is.

    A terminal for which nothing is published sets no limit.
    """
    tested = case.catalogue.standards.tab_amps
    fittings = {t.fitting for at in addresses if (t := case.terminal(at)) is not None}
    for mm2 in SIZES:
        if all((limit := tested(f, mm2)) is None or limit.value >= amps for f in fittings):
            return mm2
    return None


def mm2_for_loads_at(case: Case, at: str) -> float:
    """What the one load on a terminal asks of a wire there, in mm2, its tab too; 0 if none is known."""
    place, mark = split_address(at)
    part = case.part(place)
    on_it = [e for e in (part.inside if part else ()) if isinstance(e, EndUser) and mark in e.between]
    if len(on_it) != 1 or not on_it[0].does:
        return 0.0  # of several loads not all need be on together
    amps = load_amps(case, place, on_it[0].does)
    wire = least_mm2(case, amps, Surroundings(ambient_c(case.loom, at)), (at,))
    return max(wire or 0.0, mm2_for_tabs(case, amps, (at,)) or 0.0)


def mm2_for_drop(case: Case, amps: float, metres: float, volts: float) -> float | None:
    """The thinnest wire that loses no more than some volts over its metres; None if no size does."""
    ohms = case.catalogue.standards.wire_ohms_per_metre
    return next((mm2 for mm2 in SIZES if ohms(mm2).value * metres * amps <= volts), None)


def thicker_for_drop(case: Case, strain: Strain) -> tuple[str, int, float] | None:
    """The one leg on the way of a load that loses too many volts, and its size with which it no longer does.

    Of the legs that would do the shortest; none where the load's amps are not told, or no size does.
    """
    amps = sum(load_amps(case, *load) for load in strain.loads)
    found: list[tuple[float, str, int, float]] = []
    for one, other in zip(strain.path, strain.path[1:], strict=False):
        end = case.end_between(other, one, now=True) if amps else None
        if end is None:
            continue
        wire, last = case.loom.find(end[0]), end[1]
        first = next(n for n, e in enumerate(wire.ends) if e.at == one)
        if abs(first - last) != 1:
            continue
        leg = min(first, last)
        metres, old = wire.leg_metres(leg), wire.leg_mm2(leg)
        loses = case.catalogue.standards.wire_ohms_per_metre(old).value * metres * amps
        mm2 = mm2_for_drop(case, amps, metres, loses - (strain.value - strain.limit))
        most = most_mm2(case, (one, other))
        if mm2 is not None and mm2 > old and (most is None or mm2 <= most.value):
            found.append((metres, wire.wire, leg, mm2))
    return min(found)[1:] if found else None


def draft_thicker(case: Case, wire: str, leg: int, mm2: float) -> Operation:
    """One leg of a wire in another size: laid anew, or, if the plan adds the wire, made so at once."""
    record = case.loom.find(wire)
    if wire not in case.before.wire_index:
        return Make(record.model_copy(update={"mm2": (mm2,)}), record)
    ends = (record.ends[leg].at, record.ends[leg + 1].at)
    return Renew(wire, leg, leg + 1, mm2, record.mm2, ends)


def load_element(case: Case, place: str, does: str) -> AnyElement | None:
    """The load of a part by what it is for."""
    part = case.part(place)
    return next((e for e in part.inside if getattr(e, "does", None) == does), None) if part else None


def load_amps(case: Case, place: str, does: str) -> float:
    """What a load takes at its rated volts, in A; 0 if nothing says it."""
    element, part = load_element(case, place, does), case.part(place)
    if isinstance(element, Lamp | Winding | Led) and part is not None:
        return element.watts / (element.volts or part.volts)
    return case.loom.supply.volts / element.ohms if isinstance(element, Resistor) else 0.0


def switch_load(element: AnyElement | None) -> SwitchLoad:
    """What a load is to a contact that switches it."""
    if isinstance(element, Lamp):
        return "lamp"
    return "motor" if isinstance(element, Winding) else "resistive"


def fuse_at(case: Case, address: str) -> Fuse | None:
    """The fuse whose fused side an address is, with the amps that are in now."""
    place, _ = split_address(address)
    part = case.part(place)
    for element in part.inside if part else ():
        if isinstance(element, Fuse) and fused_side(place, element) == address:
            return fuse_as_fitted(case.loom, place, element)
    return None


def draft_fuse(case: Case, at: str, fuse: Fuse, amps: float) -> ChangeFuse:
    """Another fuse put in; in a holder that the plan itself fits it is the first one."""
    place, _ = split_address(at)
    is_own = place not in case.before.places and not case.is_swapped(place)
    return ChangeFuse(at, amps, None if is_own else fuse.amps, case.loom.fuses.get(at))
