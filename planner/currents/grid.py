"""A loom compiled to branches with resistance: the second view of the network, beside ``circuit.network``.

Nodes and variables have the same names in both views, so that a position of one is a position of the other.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property, partial
from itertools import pairwise
from typing import Any, Protocol

from planner.circuit.fitted import FittedPart, Guard, LoadKey, full_guard
from planner.currents.laws import Emf, Filament, Junction, Law, Resistance
from planner.currents.resistances import (
    BATTERY_OHMS_PER_VOLT,
    BODY_OHMS,
    CHARGING_SHARE,
    CONTACT_OHMS,
    CUT_OUT_OHMS,
    END_OHMS,
    FEED_OHMS,
    FLASHER_OHMS,
    FLAT_SHARE,
    FULL_SHARE,
    GENERATOR_OHMS_PER_VOLT,
    JUNCTION_V,
    MOUNTING_OHMS,
    STABILISER_OHMS,
    STABILISER_SLOPE_OHMS,
)
from planner.currents.solver import Branch
from planner.currents.tracing import Ends, ends_of
from planner.model.catalogue import Catalogue
from planner.model.elements import (
    AnyElement,
    Coil,
    Contact,
    Diode,
    Flasher,
    Fuse,
    Gauge,
    Lamp,
    Led,
    Resistor,
    Sender,
    Source,
    Stabiliser,
    Winding,
)
from planner.model.fitted_fuse import fuse_as_fitted
from planner.model.loom import Loom, Place, Wire, split_address
from planner.model.published import Published

BODY = "earth"  # where the zones of the body meet
Position = Mapping[str, str]


class Tables(Protocol):
    """The published figures that a network's resistances come from."""

    def wire_ohms_per_metre(self, mm2: float, celsius: float = 20.0) -> Published:
        """Resistance of a copper conductor, in ohm/m."""
        ...

    def fuse_ohms(self, rated_amps: float) -> Published:
        """Resistance of a fuse, in ohm."""
        ...


@dataclass(frozen=True, slots=True)
class Conditions:
    """What is assumed of the vehicle besides the position of its controls.

    ``charge`` is the battery's, also of one behind a feed, from 0 (flat) to 1; ``wire_celsius`` the
    temperature of all conductors; with ``stalled`` every motor is held still that says what it takes then.
    """

    charge: float = 1.0
    wire_celsius: float = 20.0
    stalled: bool = False


@dataclass(frozen=True, slots=True)
class Gated:
    """A branch and when it is there. ``name`` begins with its kind: wire, contact, fuse, load, ..."""

    branch: Branch
    guard: Guard
    _hash: int = field(init=False, repr=False, compare=False)  # asked of every branch of every loom

    def __post_init__(self) -> None:
        object.__setattr__(self, "_hash", hash((self.branch, self.guard)))

    def __hash__(self) -> int:
        return self._hash

    @property
    def kind(self) -> str:
        """What it is."""
        return self.branch.name[0]


def is_met(guard: Guard, position: Position) -> bool:
    """Whether a guard holds in a position."""
    return all(position[variable] in values for variable, values in guard)


@dataclass(frozen=True)
class Grid:
    """All branches of a loom; ``loads`` says where each load stands among them."""

    zero: str
    branches: tuple[Gated, ...]
    loads: Mapping[LoadKey, int]
    bundles: tuple[tuple[int, ...], ...] = ()  # the legs of wires that lie together

    @cached_property
    def guards(self) -> tuple[Guard, ...]:
        """Every guard once; the first is that of what is always there."""
        return tuple(dict.fromkeys(((), *(gated.guard for gated in self.branches))))

    @cached_property
    def guard_of(self) -> tuple[int, ...]:
        """The number of each branch's guard."""
        number = {guard: n for n, guard in enumerate(self.guards)}
        return tuple(number[gated.guard] for gated in self.branches)

    def met(self, position: Position) -> bytes:
        """For each guard whether it holds in a position, 1 or 0."""
        holds = bytearray(len(self.guards))
        holds[0] = 1
        for each in position.items():
            for number in self._simple.get(each, ()):
                holds[number] = 1
        for number in self._mixed:
            holds[number] = is_met(self.guards[number], position)
        return bytes(holds)

    def met_where(self, moved: Position, rest: Position, met: bytes) -> bytes:
        """The same where some variables have moved from a position of rest; ``met`` is what holds there."""
        holds = bytearray(met)
        for name, value in moved.items():
            for number in self._simple.get((name, rest[name]), ()):
                holds[number] = 0
            for number in self._simple.get((name, value), ()):
                holds[number] = 1
        for number in {n for name in moved for n in self._mixed_of.get(name, ())}:
            guard = self.guards[number]
            holds[number] = all(moved.get(name, rest[name]) in values for name, values in guard)
        return bytes(holds)

    @cached_property
    def _simple(self) -> Mapping[tuple[str, str], Sequence[int]]:
        """The guards of one variable, by its name and each value that meets them."""
        found: dict[tuple[str, str], list[int]] = {}
        for number, guard in enumerate(self.guards):
            if len(guard) == 1:
                for value in guard[0][1]:
                    found.setdefault((guard[0][0], value), []).append(number)
        return found

    @cached_property
    def _mixed(self) -> Sequence[int]:
        """The guards of several variables."""
        return [number for number, guard in enumerate(self.guards) if len(guard) > 1]

    @cached_property
    def _mixed_of(self) -> Mapping[str, Sequence[int]]:
        """Those by each of their variables."""
        found: dict[str, list[int]] = {}
        for number in self._mixed:
            for variable, _ in self.guards[number]:
                found.setdefault(variable, []).append(number)
        return found

    def closed_by(self, met: bytes) -> list[int]:
        """The branches that are there where some guards hold, by their index."""
        return [index for index, number in enumerate(self.guard_of) if met[number]]

    def closed(self, position: Position) -> list[int]:
        """The branches that are there in a position, by their index."""
        return self.closed_by(self.met(position))

    @cached_property
    def as_set(self) -> frozenset[Gated]:
        """All branches, to be compared with those of another loom."""
        return frozenset(self.branches)

    @cached_property
    def bare(self) -> tuple[Branch, ...]:
        """All branches in their order, whenever they are there."""
        return tuple(gated.branch for gated in self.branches)

    @cached_property
    def numbered(self) -> list[tuple[object, ...]]:
        """What is the same in two grids if what is found of one branch is found of the other by its index."""
        return [(*gated.branch[:3], gated.guard) for gated in self.branches]

    @cached_property
    def ends(self) -> Ends:
        """Which branches end where."""
        return ends_of(self.bare)

    @cached_property
    def load_at(self) -> Mapping[int, LoadKey]:
        """The load that each branch is, of those that are one."""
        return {index: key for key, index in self.loads.items()}

    @cached_property
    def driven(self) -> tuple[int, ...]:
        """The sources that are there in some positions only: generators."""
        return tuple(i for i, gated in enumerate(self.branches) if gated.kind == "source" and gated.guard)


# What a place or a wire was compiled to, by what it was compiled of, which is kept with it.
Pieces = dict[object, tuple[object, Sequence[Gated]]]


def compile_grid(
    loom: Loom,
    catalogue: Catalogue,
    tables: Tables,
    conditions: Conditions | None = None,
    pieces: Pieces | None = None,
) -> Grid:
    """Compile a loom whose references are sound.

    The zero of all volts is the return pole of the first source, or the body where there is none. ``pieces``
    are those of other looms under the same conditions, with the same catalogue and tables.
    """
    compiler = _GridCompiler(loom, tables, conditions or Conditions(), {} if pieces is None else pieces)
    for place in loom.places:
        compiler.add_part(place, catalogue)
    compiler.add_feeds()
    compiler.add_wires()
    compiler.add_body()
    branches = tuple(compiler.branches)
    zero = next((gated.branch.b for gated in branches if gated.kind == "source"), BODY)
    loads = {}
    for index, (name, *_) in enumerate(gated.branch for gated in branches):
        if name[0] == "load":
            _, place, what = name
            loads[place, what] = index
    return Grid(zero, branches, loads, compiler.bundles())


class _GridCompiler:
    """Collects the branches of one loom."""

    def __init__(self, loom: Loom, tables: Tables, conditions: Conditions, pieces: Pieces) -> None:
        self.loom, self.tables, self.conditions, self.pieces = loom, tables, conditions, pieces
        self.sign = 1.0 if loom.supply.earthed == "negative" else -1.0
        self.branches: list[Gated] = []

    def add(self, name: tuple[str, ...], a: str, b: str, law: Law, guard: Guard = ()) -> None:
        """Add one branch."""
        self.branches.append(Gated(Branch(name, a, b, law), guard))

    def add_once(self, name: object, *records: object, build: Callable[[], None]) -> None:
        """Add what some records are compiled to: built only if they have not been before."""
        key = (name, *map(id, records))
        if key not in self.pieces:
            start = len(self.branches)
            build()
            self.pieces[key] = (records, self.branches[start:])
        else:
            self.branches += self.pieces[key][1]

    def add_part(self, place: str, catalogue: Catalogue) -> None:
        """Add everything inside a part, and its way to earth through its mounting."""
        fitted, fuses = self.loom.places[place], self.loom.fuses
        self.add_once(
            (place, self.sign), fitted, fuses, build=partial(self._build_part, place, fitted, catalogue)
        )

    def _build_part(self, place: str, fitted: Place, catalogue: Catalogue) -> None:
        part = FittedPart(place, catalogue.parts[fitted.part], fitted.called)
        ohms = fitted.earth_ohms if fitted.earth_ohms is not None else MOUNTING_OHMS.get(fitted.mounting)
        for mark, terminal in part.part.terminals.items():
            if terminal.by == "mounting" and ohms is not None:
                node = part.node(mark)
                self.add(("mounting", node), node, f"{BODY}:{fitted.zone}", Resistance(ohms))
        for index, element in enumerate(part.part.inside):
            builder = _BUILDERS.get(type(element))
            if builder is not None:
                builder(self, part, index, element)

    def add_load(
        self, part: FittedPart, index: int, element: "_AnyLoad", law: Law, guard: Guard = ()
    ) -> None:
        """Add a load, told by its key."""
        key = part.load_keys[index]
        a, b = (part.node(name) for name in element.between)
        self.add(("load", *key), a, b, law, guard)

    def add_feeds(self) -> None:
        """Add the feeds at the edge of a partial loom."""
        volts = self.sign * self.loom.supply.volts * self.charged(FULL_SHARE)
        for name, feed in self.loom.feeds.items():
            law = Emf(volts, feed.ohms or FEED_OHMS)
            self.add(("feed", name), name, BODY, law, full_guard(feed.when))

    def charged(self, full: float) -> float:
        """What is left of a full battery's volts, or of their share, at its charge."""
        flat = full * FLAT_SHARE / FULL_SHARE
        return flat + (full - flat) * self.conditions.charge

    def add_wires(self) -> None:
        """Add every leg of every wire, its two crimps with it."""
        for wire in self.loom.wires:
            self.add_once("wire", wire, build=partial(self._build_wire, wire))

    def _build_wire(self, wire: Wire) -> None:
        nodes = [
            f"end:{wire.wire}:{number}" if end.at in ("loose", "unknown") else end.at
            for number, end in enumerate(wire.ends)
        ]
        for leg, (a, b) in enumerate(pairwise(nodes)):
            per_metre = self.tables.wire_ohms_per_metre(wire.leg_mm2(leg), self.conditions.wire_celsius)
            ohms = per_metre.value * wire.leg_metres(leg) + 2 * END_OHMS
            self.add(("wire", wire.wire, str(leg)), a, b, Resistance(ohms))

    def bundles(self) -> tuple[tuple[int, ...], ...]:
        """The legs that lie in each bundle, once all wires are there."""
        legs: dict[str, list[int]] = {}
        for index, gated in enumerate(self.branches if self.loom.bundles else ()):
            if gated.kind == "wire":
                legs.setdefault(gated.branch.name[1], []).append(index)
        return tuple(tuple(i for wire in wires for i in legs[wire]) for wires in self.loom.bundles.values())

    def add_body(self) -> None:
        """Add the way through the body for each zone that something is earthed in."""
        touched = {node for gated in self.branches for node in (gated.branch.a, gated.branch.b)}
        for node in sorted(touched):
            place, zone = split_address(node)
            if place == BODY and zone:
                measured = self.loom.zones[zone].earth_ohms if zone in self.loom.zones else None
                ohms = BODY_OHMS if measured is None else measured
                self.add(("body", zone), node, BODY, Resistance(ohms))


_AnyLoad = Lamp | Winding | Resistor | Coil | Flasher | Led | Gauge | Diode


def _contact(on: _GridCompiler, part: FittedPart, index: int, element: Contact) -> None:
    ohms = CONTACT_OHMS if element.ohms is None else element.ohms
    guard = part.guard(element.when)
    for number, (a, b) in enumerate(pairwise(part.node(name) for name in element.join)):
        on.add(("contact", part.place, str(index), str(number)), a, b, Resistance(ohms), guard)


def _lamp(on: _GridCompiler, part: FittedPart, index: int, element: Lamp) -> None:
    volts = element.volts or part.part.volts
    on.add_load(part, index, element, Filament(volts, element.watts / volts))


def _winding(on: _GridCompiler, part: FittedPart, index: int, element: Winding) -> None:
    volts = element.volts or part.part.volts
    amps = element.watts / volts
    if on.conditions.stalled and element.stalled_amps:
        amps = element.stalled_amps
    on.add_load(part, index, element, Resistance(volts / amps))


def _resistor(on: _GridCompiler, part: FittedPart, index: int, element: Resistor) -> None:
    on.add_load(part, index, element, Resistance(element.ohms), part.guard(element.when))


def _ohmic(on: _GridCompiler, part: FittedPart, index: int, element: Coil | Gauge) -> None:
    on.add_load(part, index, element, Resistance(element.ohms))


def _diode(on: _GridCompiler, part: FittedPart, index: int, element: Diode) -> None:
    if element.is_cut_out and on.sign < 0:  # it lets the generator's current home, whatever its sign
        element = element.model_copy(update={"between": element.between[::-1]})
    ohms = JUNCTION_V / (element.amps or 1.0) if element.drop_v else CUT_OUT_OHMS
    on.add_load(part, index, element, Junction(element.drop_v, ohms))


def _led(on: _GridCompiler, part: FittedPart, index: int, element: Led) -> None:
    volts = element.volts or part.part.volts
    ohms = max(volts - element.drop_v, 0.1) / (element.watts / volts)
    on.add_load(part, index, element, Junction(element.drop_v, ohms))


def _flasher(on: _GridCompiler, part: FittedPart, index: int, element: Flasher) -> None:
    a, b = (part.node(name) for name in element.between)
    beat = part.variable(element.name)
    light = ((beat, frozenset({"light"})),)
    on.add(("flasher", part.place, str(index)), a, b, Resistance(FLASHER_OHMS), light)
    if element.heater_ohms:
        rest = ((beat, frozenset({"rest"})),)
        on.add_load(part, index, element, Resistance(element.heater_ohms), rest)


def _fuse(on: _GridCompiler, part: FittedPart, index: int, element: Fuse) -> None:
    a, b = (part.node(name) for name in element.between)
    element = fuse_as_fitted(on.loom, part.place, element)
    continuous = element.amps if element.marked == "continuous" else element.amps / 2
    ohms = on.tables.fuse_ohms(continuous).value
    on.add(("fuse", part.place, str(index)), a, b, Resistance(ohms))


def _source(on: _GridCompiler, part: FittedPart, index: int, element: Source) -> None:
    live, back = (part.node(name) for name in element.between)
    guard = part.guard(element.when)
    if guard:  # a generator: it gives what its regulator holds
        volts = element.open_v or element.volts * CHARGING_SHARE
        ohms = element.ohms or element.volts * GENERATOR_OHMS_PER_VOLT
    else:
        full = element.open_v or element.volts * FULL_SHARE
        volts = on.charged(full)
        ohms = element.ohms or element.volts * BATTERY_OHMS_PER_VOLT
    on.add(("source", part.place, str(index)), live, back, Emf(on.sign * volts, ohms), guard)


def _stabiliser(on: _GridCompiler, part: FittedPart, index: int, element: Stabiliser) -> None:
    """A resistance into its output, and from there to its earth what takes all that is above its volts."""
    fed, out, earth = (part.node(name) for name in (*element.between, element.earth))
    a, b = (out, earth) if on.sign > 0 else (earth, out)
    on.add(("stabiliser", part.place, str(index), "in"), fed, out, Resistance(STABILISER_OHMS))
    on.add(
        ("stabiliser", part.place, str(index), "held"), a, b, Junction(element.volts, STABILISER_SLOPE_OHMS)
    )


def _sender(on: _GridCompiler, part: FittedPart, index: int, element: Sender) -> None:
    a, b = (part.node(name) for name in element.between)
    for state, ohms in element.ohms.items():
        guard = part.guard({element.follows: (state,)})
        key = (part.place, f"#{index} {state}")
        on.add(("load", *key), a, b, Resistance(ohms), guard)


_BUILDERS: Mapping[type[AnyElement], Callable[[_GridCompiler, FittedPart, int, Any], None]] = {
    Contact: _contact,
    Lamp: _lamp,
    Winding: _winding,
    Resistor: _resistor,
    Coil: _ohmic,
    Gauge: _ohmic,
    Diode: _diode,
    Led: _led,
    Flasher: _flasher,
    Fuse: _fuse,
    Source: _source,
    Sender: _sender,
    Stabiliser: _stabiliser,
}


def branches_at(grid: Grid, position: Position) -> Iterator[tuple[int, Branch]]:
    """Yield index and branch of everything that is there in a position."""
    for index in grid.closed(position):
        yield index, grid.branches[index].branch
