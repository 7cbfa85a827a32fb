"""A relay near a load, seen from a case: where it could sit, which one bears the load, how it is wired."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import inf

from planner.engine.case import Case
from planner.engine.drafting import draft_wire
from planner.engine.earthing import earth_near
from planner.engine.relieving import OwnFeed, draft_own_feed, free_name, put_end
from planner.engine.sizing import load_amps, load_element, switch_load
from planner.engine.suiting import weakest_part
from planner.model.delta import Cover, EndRef, Fit, Operation
from planner.model.elements import Coil, Contact
from planner.model.loom import Place, split_address
from planner.model.part import Part
from planner.model.reach import consumers_beyond
from planner.model.strain import Strain

RELAY_ROLES = ("30", "85", "86", "87")
Loads = Sequence[tuple[str, str]]


@dataclass(frozen=True)
class Passage:
    """The end of a wire on the way of a strained current, all of its loads still beyond it."""

    end: EndRef
    at: str  # the terminal it is on


def passages(case: Case, strain: Strain, *, alone: bool) -> list[Passage]:
    """Where a relay could take over from a strained current, the nearest to its loads first.

    Only beyond what is strained, no further than where the loads part, and not in the middle of a chain;
    ``alone``: only where nothing else hangs.
    """
    found: list[Passage] = []
    loads = {load for load in strain.loads if load_amps(case, *load)}
    is_beyond = strain.kind == "drop"
    for before, here in zip(strain.path, strain.path[1:], strict=False):
        end = case.end_between(here, before, now=True)
        if end is not None and (is_beyond or end[0] == strain.at):
            reached = {(c.place, c.does) for c in consumers_beyond(case.loom, case.catalogue, here)}
            if not loads or not loads <= reached:
                break
            if not case.is_middle(*end) and (not alone or reached == loads):
                found.append(Passage(end, here))
        is_beyond = is_beyond or strain.at in (before, here) or (end is not None and end[0] == strain.at)
        if split_address(here)[0] in {place for place, _ in loads}:
            break
    return found[::-1]


def choose_relay(case: Case, loads: Loads) -> Part | None:
    """The weakest relay of the catalogue whose make contact is rated for some loads; unrated ones come last.

    A contact is rated for a load if it bears its amps times the factor for its kind.
    """
    return weakest_part(case, "relay", RELAY_ROLES, rated_amps, asked_amps(case, loads))


def asked_amps(case: Case, loads: Loads) -> float:
    """What a contact has to be rated for: the amps of some loads times the factor for their kind."""
    factor = case.catalogue.standards.switch_factor
    volts = case.loom.supply.volts
    return sum(load_amps(case, *load) for load in loads) * max(
        factor(switch_load(load_element(case, *load)), volts).value for load in loads
    )


def rated_amps(relay: Part) -> float | None:
    """What the make contact of a relay bears, inf if that is not told; None if no coil works it."""
    marks = {mark for mark, t in relay.terminals.items() if t.role == "87"}
    rated = [e.amps for e in relay.inside if isinstance(e, Contact) and marks & set(e.join) if e.amps]
    has_coil = any(isinstance(e, Coil) for e in relay.inside)
    return min(rated, default=inf) if has_coil else None


def own_relay(case: Case, at: str, loads: Loads) -> str | None:
    """The bare relay that the job fits in a terminal's zone for some loads, best the one named for them.

    None whose contact is not rated for them.
    """
    named, asked = set(_named(case, loads).split()), asked_amps(case, loads)
    found = []
    for place in case.swapped_places():
        part, fitted = case.part(place), case.loom.places[place]
        if part is None or fitted.zone != case.zone(at) or case.loom.ends_of_place(place):
            continue
        roles = {t.role for t in part.terminals.values()}
        if set(RELAY_ROLES) <= roles and (rated_amps(part) or 0.0) >= asked:
            words = set(case.loom.place_title(place).replace("-", " ").split())
            found.append((-len(named & words), place))
    return min(found)[1] if found else None


def draft_relay(
    case: Case, passage: Passage, loads: Loads, relay: Part, own: str | None
) -> tuple[tuple[Operation, ...], OwnFeed] | None:
    """A relay before a terminal: the old wire works its coil, a feed of its own the loads.

    It is fitted for that, or is one of the job's ``own`` that nothing is joined to yet.
    """
    amps = sum(load_amps(case, *load) for load in loads)
    beside = loads[0][0]
    zone = case.zone(passage.at) or case.loom.places[beside].zone
    name = own or free_name(case, f"{beside}.relay")
    title = f"relay for {_named(case, loads)}, {case.loom.zones[zone].title or zone}"
    place = Place(part=relay.part, zone=zone, mounting="insulated", title=title, known="measured")
    fit: tuple[Operation, ...] = () if own else (Fit(name, place),)
    fitted = replace(case, loom=fit[0].apply(case.loom)) if fit else case
    marks = {t.role: mark for mark, t in relay.terminals.items()}
    live, coil_earth, coil_live, out = (f"{name}:{marks[role]}" for role in RELAY_ROLES)
    feed = draft_own_feed(fitted, live, amps, "always-live")
    if feed is None:
        return None
    spare = [m for m, t in relay.terminals.items() if t.role not in RELAY_ROLES and t.by == "wire"]
    operations = (
        *fit,
        *put_end(fitted, *passage.end, coil_live),
        draft_wire(fitted, coil_earth, earth_near(fitted, coil_earth), "31"),
        draft_wire(fitted, out, passage.at, case.role(passage.at) or "87", mm2=feed.mm2),
        *feed.operations,
        *(Cover(f"{name}:{mark}") for mark in spare if f"{name}:{mark}" not in case.loom.covered),
    )
    return operations, feed


def _named(case: Case, loads: Loads) -> str:
    """Some loads in two words: what they do, if it is the same, else where they are."""
    places, tasks = {place for place, _ in loads}, {does for _, does in loads}
    if len(places) > 1 and len(tasks) == 1:
        return tasks.pop()
    return " and ".join(f"the {case.loom.place_title(place).partition(',')[0]}" for place in sorted(places))
