"""Which questions a candidate loom leaves open, as far as they can be seen without computing anything."""

from collections.abc import Iterator, Mapping

from planner.model.catalogue import Catalogue
from planner.model.delta import ChangeSupply, Fit, Operation, Remove
from planner.model.job import Job
from planner.model.joiners import is_new_joiner, joiner_end, joiner_zone
from planner.model.loom import Loom, Place, Wire, split_address
from planner.model.need import (
    BareTerminal,
    FullTerminal,
    LooseEnd,
    Need,
    OtherPole,
    OtherVolts,
    ShortReach,
    WireToMake,
    WrongFitting,
)
from planner.model.old_names import exchanged
from planner.model.part import Part, Terminal
from planner.model.routes import wire_length, zone_of

REACH_TOLERANCE_METRES = 0.005


def swap_operations(before: Loom, job: Job, parts: Mapping[str, Part]) -> Iterator[Operation]:
    """The change of supply, and the removals and fittings that the job asks for, in its order.

    Ends of removed parts hang loose. Variables of a new part go by the names of the old one's.
    """
    supply = job.supply_after(before)
    if supply != before.supply:
        yield ChangeSupply(supply, before.supply)
    for swap in job.swaps:
        if not swap.changes(before):
            continue
        old = before.places.get(swap.at)
        if old is not None:
            prefix = swap.at + ":"
            yield Remove(
                swap.at,
                old,
                tuple(before.ends_of_place(swap.at)),
                tuple(a for a in before.piggybacks if a.startswith(prefix)),
                tuple(a for a in before.covered if a.startswith(prefix)),
                tuple((a, amps) for a, amps in before.fuses.items() if a.startswith(prefix)),
            )
        if swap.fit != "nothing":
            mounting = swap.mounting or (old.mounting if old else "metal")
            place = Place(
                part=swap.fit,
                zone=swap.zone or (old.zone if old else ""),
                mounting=mounting,
                title=swap.title or (old.title if old else None),
                earth_ohms=old.earth_ohms if old and old.mounting == mounting else None,
                known=swap.known or "measured",
            )
            yield Fit(swap.at, exchanged(place, parts[old.part], parts[swap.fit]) if old else place)


class NeedFinder:
    """Finds the open needs of candidate looms of one job."""

    def __init__(self, before: Loom, catalogue: Catalogue, job: Job) -> None:
        self.before, self.catalogue = before, catalogue
        self.places = tuple(swap.at for swap in job.swaps if swap.changes(before))
        self._swapped = frozenset(self.places)
        self._as_found = {
            address: len(ends)
            for address, ends in before.ends_at.items()
            if split_address(address)[0] not in self._swapped
        }
        # A wire that touches a swapped place is another record as soon as the part is out.
        self._untouched = frozenset(id(wire) for wire in before.wires)
        self._old_ends = tuple(
            LooseEnd(wire, number, f"{place}:{mark}")
            for place in self.places
            for wire, number, mark in before.ends_of_place(place)
        )

    def kept_parts(self, loom: Loom) -> Iterator[Need]:
        """Yield each part that stays while the supply changes: for its volts, then for the pole earthed."""
        if loom.supply == self.before.supply:
            return
        kept = [
            place
            for place, fitted in self.before.places.items()
            if place not in self._swapped and loom.places.get(place) == fitted
        ]
        if loom.supply.volts != self.before.supply.volts:
            yield from (OtherVolts(place) for place in kept)
        if loom.supply.earthed != self.before.supply.earthed:
            yield from (OtherPole(place) for place in kept)

    def loose_ends(self, loom: Loom) -> Iterator[LooseEnd]:
        """Yield each end of a removed part that still hangs loose and bare."""
        for end in self._old_ends:
            if end.wire in loom.wire_index:
                ends = loom.find(end.wire).ends
                if end.end < len(ends) and ends[end.end].at == "loose" and not ends[end.end].covered:
                    yield end

    def full_terminals(self, loom: Loom) -> Iterator[FullTerminal]:
        """Yield each terminal that carries more ends than it holds."""
        for address, ends in loom.ends_at.items():
            if len(ends) <= self._as_found.get(address, 1):
                continue  # every terminal holds one; more than that, as found, is not the job's doing
            terminal = self._terminal(loom, address)
            if terminal is None or terminal.by != "wire":
                continue
            if len(ends) > terminal.holds + loom.piggybacks.count(address):
                yield FullTerminal(address, ends)

    def bare_terminals(self, loom: Loom) -> Iterator[BareTerminal]:
        """Yield each terminal of a fitted part without an end; mountings that do not surely earth as well.

        One that its housing covers is a need only where the part cannot do without a feed or an earth there.
        The posts of a battery in a new place are none: it is no consumer, and no feed or earth of one's size
        may be all that joins it.
        """
        for place in self.places:
            fitted = loom.places.get(place)
            if fitted is None:
                continue
            part = self.catalogue.parts[fitted.part]
            posts = part.battery_posts if place not in self.before.places else ()
            for mark, terminal in part.terminals.items():
                address = f"{place}:{mark}"
                if address in loom.ends_at or address in loom.covered or mark in posts:
                    continue
                if terminal.covered and not self._needs_a_wire(terminal):
                    continue
                if terminal.by == "wire" or fitted.mounting != "metal":
                    yield BareTerminal(address)

    def end_needs(self, loom: Loom, made: frozenset[str], roles: Mapping[str, str | None]) -> Iterator[Need]:
        """Yield fittings that do not match, ends that do not reach, wires whose making is open.

        ``made`` are the new wires that are settled, ``roles`` says what each new wire is for.
        """
        for wire in loom.wires:
            if id(wire) in self._untouched:
                continue
            is_new = wire.wire not in self.before.wire_index
            if is_new and wire.wire not in made and not wire.wire.startswith("lead-"):
                yield WireToMake(wire.wire, roles.get(wire.wire))
                continue
            if is_new:
                yield from self._wrong_fittings_of_new(loom, wire)
                continue
            old = self.before.find(wire.wire)
            if len(old.ends) != len(wire.ends):
                continue
            for number, end in enumerate(wire.ends):
                is_swapped = split_address(end.at)[0] in self._swapped
                if not is_swapped and end.at == old.ends[number].at:
                    continue
                fitting = end.fitting or self._old_fitting(old.ends[number].at)
                if fitting is not None and not self._goes_on(loom, end.at, fitting):
                    yield WrongFitting(wire.wire, number, end.at)
                missing = self._missing_metres(loom, wire, number, old.ends[number].at) - end.spare_metres
                if missing > REACH_TOLERANCE_METRES:
                    yield ShortReach(wire.wire, number, end.at, round(missing, 2))

    def _wrong_fittings_of_new(self, loom: Loom, wire: Wire) -> Iterator[WrongFitting]:
        """Yield the ends of a wire that was made for one terminal and then led to another: a part in line."""
        for number, end in enumerate(wire.ends):
            if end.fitting is not None and not self._goes_on(loom, end.at, end.fitting):
                yield WrongFitting(wire.wire, number, end.at)

    def _goes_on(self, loom: Loom, at: str, fitting: str) -> bool:
        """Whether an end goes on as it is where it is led."""
        if is_new_joiner(self.before, at):
            # A cut takes the terminal off by itself, and leaves a joiner for the two legs of one end.
            return fitting == joiner_end(loom, at) or len(loom.ends_at[at]) == 1
        terminal = self._terminal(loom, at)
        return terminal is None or terminal.takes(fitting)

    def _missing_metres(self, loom: Loom, wire: Wire, number: int, was: str) -> float:
        """How much further an end is led than it was.

        To a terminal of a part that stays, and into a joiner where its ends are, the plan leads what reaches.
        """
        place, now = split_address(was)[0], wire.ends[number].at
        if is_new_joiner(self.before, now):
            here, there = zone_of(self.before, was), joiner_zone(self.before, loom, now)
            return wire_length(loom, f"earth:{here}", f"earth:{there}")[0] if here != there and here else 0.0
        terminal = self._terminal(loom, now)
        if terminal is None or split_address(now)[0] not in self._swapped:
            return 0.0
        gone = self.before.places.get(place) if place not in loom.places else None
        if gone is not None and gone.zone != zone_of(loom, now):
            return min(wire_length(loom, f"earth:{gone.zone}", now)[0], _short_of(loom, wire, number))
        if place == split_address(now)[0] or place not in loom.places:
            return terminal.further_metres
        return wire_length(loom, was, now)[0]

    def _needs_a_wire(self, terminal: Terminal) -> bool:
        """Whether a terminal cannot do without a feed or an earth."""
        role = self.catalogue.roles.get(terminal.role) if terminal.role else None
        return (terminal.wants or (role.wants if role else "nothing")) in ("live", "ignition", "earth")

    def _old_fitting(self, address: str) -> str | None:
        terminal = self._terminal(self.before, address)
        return terminal.usual_end if terminal is not None else None

    def _terminal(self, loom: Loom, address: str) -> Terminal | None:
        place, mark = split_address(address)
        fitted = loom.places.get(place)
        return self.catalogue.parts[fitted.part].terminals.get(mark) if fitted else None


def _short_of(loom: Loom, wire: Wire, number: int) -> float:
    """How many metres a wire lacks to get to an end's terminal straight from the ends beside it on the wire.

    Drawn back out of the way that it took; one that is bound up with others cannot be.
    """
    beside = [(n, min(n, number)) for n in (number - 1, number + 1) if 0 <= n < len(wire.ends)]
    if wire.bundle is not None or any(zone_of(loom, wire.ends[n].at) is None for n, _ in beside):
        return float("inf")
    at = wire.ends[number].at
    return max(0.0, *(wire_length(loom, wire.ends[n].at, at)[0] - wire.leg_metres(leg) for n, leg in beside))
