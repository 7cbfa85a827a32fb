"""Relays that a job fits beside a new switch and a new load, seen from a case: which belongs to which."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planner.engine.case import Case
from planner.engine.relaying import RELAY_ROLES, Loads, asked_amps, rated_amps
from planner.model.elements import EndUser
from planner.model.loom import split_address
from planner.model.reach import gives_current

COIL_FEED = "86"
SAYS_NOTHING = frozenset({"the", "a", "of", "for", "and", "relay", "switch", "lamp", "lamps", "new"})


@dataclass(frozen=True)
class ReadyRelay:
    """A bare relay in a new place, the new load that it is for and the new switch that works its coil."""

    place: str
    load: str  # the load's terminal that is to be fed
    switch: str  # the output that works the coil
    loads: Loads

    @property
    def serves(self) -> tuple[str, str]:
        """The two terminals that it stands between."""
        return self.load, self.switch


def ready_relays(case: Case) -> Iterator[ReadyRelay]:
    """Yield each relay that lies ready, with its load and its switch.

    A switch says by the role of its output whether it works a coil or the load itself. Where it is the load,
    only a relay that is called after one of the two counts: another may be meant for something else.
    """
    new = [place for place in case.swapped_places() if place not in case.before.places]
    relays = [place for place in new if _is_bare_relay(case, place)]
    if not relays:
        return
    taken: set[str] = set()
    for load, role, loads in _bare_loads(case, new):
        names = {place: _words(case, place) & _words(case, split_address(load)[0]) for place in relays}
        fit = [p for p in relays if p not in taken and _rating(case, p) >= asked_amps(case, loads)]
        for switch in _bare_outputs(case, new, role) if fit else ():
            said = _words(case, split_address(switch)[0])
            relay = max(fit, key=lambda p: len(names[p] | (_words(case, p) & said)))
            if case.role(switch) == COIL_FEED or names[relay] or _words(case, relay) & said:
                taken |= {relay, switch}
                yield ReadyRelay(relay, load, switch, loads)
                break


def waits_for_relay(case: Case, at: str) -> bool:
    """Whether a terminal is one of those that a relay lying ready is to stand between."""
    return any(at in ready.serves for ready in ready_relays(case))


def _is_bare_relay(case: Case, place: str) -> bool:
    part = case.part(place)
    roles = {t.role for t in part.terminals.values()} if part else set()
    return set(RELAY_ROLES) <= roles and not case.loom.ends_of_place(place)


def _rating(case: Case, place: str) -> float:
    part = case.part(place)
    return (rated_amps(part) or 0.0) if part else 0.0


def _bare_loads(case: Case, new: Sequence[str]) -> Iterator[tuple[str, str, Loads]]:
    """Yield for each role the first bare terminal of a new load, and the loads of that role."""
    found: dict[str, list[tuple[str, str, str]]] = {}
    for place in new:
        part = case.part(place)
        for load in (e for e in part.inside if isinstance(e, EndUser) and e.does) if part else ():
            for mark in load.between:
                at, role = f"{place}:{mark}", case.role(f"{place}:{mark}")
                if role and case.wants(at) == "partner" and not case.switches(at) and not case.ends_at(at):
                    found.setdefault(role, []).append((at, place, load.does or ""))
    for role, users in found.items():
        yield users[0][0], role, tuple(dict.fromkeys((place, does) for _, place, does in users))


def _bare_outputs(case: Case, new: Sequence[str], role: str) -> Iterator[str]:
    """Yield the bare outputs of new switches that are for a load of a role or for the coil of a relay."""
    for place in new:
        part = case.part(place)
        if part is None or _is_bare_relay(case, place):
            continue
        for mark, terminal in part.terminals.items():
            at = f"{place}:{mark}"
            is_output = terminal.role in (role, COIL_FEED) and gives_current(part, case.catalogue, mark)
            if is_output and case.switches(at) and not case.ends_at(at):
                yield at


def _words(case: Case, place: str) -> frozenset[str]:
    said = case.loom.place_title(place).replace("-", " ").replace(",", " ").lower()
    return frozenset(said.split()) - SAYS_NOTHING
