"""A loom compiled to nodes, elements and variables; the circuit knows nothing of vehicles beyond this."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Any, Literal

from planner.circuit.fitted import FittedPart, Guard, LoadKey, full_guard
from planner.model.catalogue import Catalogue
from planner.model.elements import (
    ARMATURE_STATES,
    AnyElement,
    Cam,
    Coil,
    Contact,
    Control,
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
    Step,
    Winding,
)
from planner.model.loom import Loom, Place, split_address
from planner.model.part import Part

EARTH = "earth"
VariableKind = Literal["control", "condition", "armature", "step", "cam", "beat"]
HIDDEN_KINDS = ("armature", "step", "cam", "beat")


@dataclass(frozen=True, slots=True)
class Variable:
    """Something that changes. The first value is its rest."""

    name: str
    kind: VariableKind
    values: tuple[str, ...]
    meanings: tuple[str, ...]
    sprung: frozenset[str] = frozenset()  # positions that last only while they are held


@dataclass(frozen=True, slots=True)
class Tie:
    """Two nodes joined while the guard holds; ``what`` names the contact or wire."""

    a: str
    b: str
    guard: Guard
    what: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Pass:
    """A fuse or a flasher's contact: a joint whose current is known by its label."""

    a: str
    b: str
    guard: Guard
    label: str
    amps: float | None = None


@dataclass(frozen=True, slots=True)
class Conductance:
    """Anything with ohms, or a diode (``drop_v`` not None, current only from a to b; ohms may be 0)."""

    key: LoadKey
    a: str
    b: str
    ohms: float
    guard: Guard = ()
    drop_v: float | None = None


@dataclass(frozen=True, slots=True)
class Supply:
    """A live pole or an edge feed: holds its node at supply voltage while the guard holds."""

    node: str
    guard: Guard
    label: str


@dataclass(frozen=True, slots=True)
class LoadInfo:
    """What a load is, for judging how it appears."""

    key: LoadKey
    kind: str
    duty: str
    ohms: float
    rated_amps: float
    a: str
    b: str
    is_task: bool  # false for a coil, heater or sender that nobody looks at


@dataclass(frozen=True, slots=True)
class ArmatureLaw:
    """When a coil's armature moves."""

    variable: str
    load: LoadKey
    ohms: float
    pulls_in_v: float
    drops_out_v: float
    steps: tuple[str, ...]  # step variables that move with it


@dataclass(frozen=True, slots=True)
class CamLaw:
    """What turns a cam."""

    variable: str
    place: str
    loads: tuple[LoadKey, ...]


@dataclass(frozen=True, slots=True)
class BeatLaw:
    """When a flasher beats."""

    variable: str
    label: str
    needs_amps: float
    supply: tuple[str, str] | None


@dataclass(eq=False)
class Network:
    """Everything the circuit needs to know of a loom; one network is not another, however alike."""

    volts: float  # of the live pole against earth; negative on a positive-earth vehicle
    zero: str = EARTH
    variables: dict[str, Variable] = field(default_factory=dict)
    ties: list[Tie] = field(default_factory=list)
    passes: list[Pass] = field(default_factory=list)
    conductances: list[Conductance] = field(default_factory=list)
    supplies: list[Supply] = field(default_factory=list)
    loads: dict[LoadKey, LoadInfo] = field(default_factory=dict)
    armatures: dict[str, ArmatureLaw] = field(default_factory=dict)
    cams: dict[str, CamLaw] = field(default_factory=dict)
    beats: dict[str, BeatLaw] = field(default_factory=dict)
    watched: set[str] = field(default_factory=set)
    nodes: set[str] = field(default_factory=set)

    def take_in(self, other: "Network") -> None:
        """Add what a part of this network has; it goes on as it is."""
        self.variables |= other.variables
        self.loads |= other.loads
        self.armatures |= other.armatures
        self.cams |= other.cams
        self.beats |= other.beats
        self.ties += other.ties
        self.passes += other.passes
        self.conductances += other.conductances
        self.watched |= other.watched
        self.nodes |= other.nodes

    @property
    def hidden(self) -> tuple[str, ...]:
        """The variables that nobody moves: armatures, steps, cams and beats."""
        return tuple(name for name, v in self.variables.items() if v.kind in HIDDEN_KINDS)

    @property
    def controls(self) -> tuple[str, ...]:
        """The variables that a person or the vehicle moves."""
        return tuple(name for name, v in self.variables.items() if v.kind not in HIDDEN_KINDS)


_Pole = tuple[str, str, Guard, str]  # live node, return node, guard, label


def node_of(address: str) -> str:
    """The node an address belongs to: all of the body is one node while joints are ideal."""
    return EARTH if split_address(address)[0] == EARTH else address


def compile_network(
    loom: Loom,
    catalogue: Catalogue,
    watched: frozenset[str] = frozenset(),
    compiled: "CompiledParts | None" = None,
) -> Network:
    """Compile a loom.

    Parameters
    ----------
    loom, catalogue
        A loom whose references are sound (``planner.reading.loom_references`` checks that).
    watched
        Addresses whose potential is to be reported besides the loads.
    compiled
        Parts compiled before for looms of the same catalogue; those of this loom are added.

    Returns
    -------
    Network
        Loose and unknown ends become nodes of their own, ``end:WIRE:NUMBER``.
    """
    net = Network(volts=loom.supply.live_volts)
    net.nodes.add(EARTH)
    for name, positions in loom.conditions.items():
        net.variables[name] = Variable(
            name, "condition", tuple(p.label for p in positions), tuple(p.meaning for p in positions)
        )
    sources: list[_Pole] = []
    known = {} if compiled is None else compiled
    for place, fitted in loom.places.items():
        earthed = fitted.mounting != "insulated"
        key = (place, fitted.part, earthed, *map(tuple, (fitted.called.items(), fitted.meanings.items())))
        if key not in known:
            part = catalogue.parts[fitted.part]
            known[key] = PartCompiler(fitted, place, part, earthed=earthed).compile()
        net.take_in(known[key].net)
        sources += known[key].sources
    if loom.fuses:
        put_in = {f"fuse:{address}": amps for address, amps in loom.fuses.items()}
        net.passes = [replace(p, amps=put_in.get(p.label, p.amps)) for p in net.passes]
    _add_supplies(net, sources)
    if net.volts < 0:  # the current of a generator comes home the other way
        net.conductances = [_turned(each) if each.drop_v == 0.0 else each for each in net.conductances]
    for name, feed in loom.feeds.items():
        net.nodes.add(name)
        net.supplies.append(Supply(name, full_guard(feed.when), name))
        if feed.when:
            net.watched.add(name)
    for wire in loom.wires:
        nodes = [
            f"end:{wire.wire}:{number}" if end.at in ("loose", "unknown") else node_of(end.at)
            for number, end in enumerate(wire.ends)
        ]
        net.nodes.update(nodes)
        for first, second in pairwise(nodes):
            net.ties.append(Tie(first, second, (), ("wire", wire.wire)))
    net.watched |= {node_of(address) for address in watched}
    return net


def _turned(cut_out: Conductance) -> Conductance:
    """A cut-out with the positive pole earthed: it lets the generator's current home, whatever its sign."""
    return replace(cut_out, a=cut_out.b, b=cut_out.a)


def _add_supplies(net: Network, sources: list[_Pole]) -> None:
    """The first source's return pole is the zero of the whole network."""
    for index, (live, back, guard, label) in enumerate(sources):
        if index == 0:
            net.zero = back
        elif back != net.zero:
            net.ties.append(Tie(back, EARTH, (), ("source", label)))
        net.supplies.append(Supply(live, guard, label))


class PartCompiler(FittedPart):
    """Compiles one fitted part into a network of its own, and the sources in it."""

    def __init__(self, fitted: Place, place: str, part: Part, *, earthed: bool) -> None:
        super().__init__(place, part, fitted.called)
        self.meanings = fitted.meanings
        self.net = Network(part.volts)
        self.earthed = earthed
        self.sources: list[_Pole] = []
        self.names: dict[str, LoadKey] = {}

    def compile(self) -> "PartCompiler":
        """Add everything inside."""
        for mark, terminal in self.part.terminals.items():
            self.net.nodes.add(self.node(mark))
            if terminal.by == "mounting" and self.earthed:
                self.net.ties.append(Tie(self.node(mark), EARTH, (), ("mounting", self.place)))
        for index, element in enumerate(self.part.inside):
            self.add(index, element)
        for element in self.part.inside:
            if isinstance(element, Cam):
                loads = tuple(self.names[name] for name in element.turned_by if name in self.names)
                full = self.variable(element.name)
                self.net.cams[full] = CamLaw(full, self.place, loads)
        return self

    def add(self, index: int, element: AnyElement) -> None:
        """Add one element; every kind of element has its builder in ``_BUILDERS``."""
        _BUILDERS[type(element)](self, index, element)

    def load(
        self, index: int, element: "_AnyLoad", ohms: float, rated_amps: float, guard: Guard = ()
    ) -> LoadKey:
        """Register a load and return its key."""
        key = self.load_keys[index]
        does = getattr(element, "does", None)
        self.names[does or f"#{index}"] = key
        a, b = (self.node(n) for n in element.between)
        drop = element.drop_v if isinstance(element, Led | Diode) else None
        self.net.conductances.append(Conductance(key, a, b, ohms, guard, drop))
        duty = getattr(element, "duty", "none")
        info = LoadInfo(key, type(element).__name__.lower(), duty, ohms, rated_amps, a, b, does is not None)
        self.net.loads[key] = info
        return key


# By place, id of the part, whether it is earthed, what its variables are called and their positions mean.
CompiledParts = dict[tuple[object, ...], PartCompiler]
_AnyLoad = Lamp | Winding | Resistor | Coil | Flasher | Led | Gauge | Diode | Sender


def _control(on: PartCompiler, _: int, element: Control) -> None:
    full = on.variable(element.name)
    on.net.variables[full] = Variable(
        full,
        "control",
        tuple(p.label for p in element.positions),
        tuple(on.meanings.get((element.name, p.label), p.meaning) for p in element.positions),
        _sprung(element),
    )


def _sprung(control: Control) -> frozenset[str]:
    """What is listed after the position it returns to: start after on, pressed after released."""
    if control.returns is None:
        return frozenset()
    labels = [position.label for position in control.positions]
    return frozenset(labels[labels.index(control.returns) + 1 :])


def _contact(on: PartCompiler, index: int, element: Contact) -> None:
    nodes = [on.node(name) for name in element.join]
    for first, second in pairwise(nodes):
        on.net.ties.append(Tie(first, second, on.guard(element.when), ("contact", on.place, str(index))))


def _rated(on: PartCompiler, index: int, element: Lamp | Winding) -> None:
    volts = element.volts or on.part.volts
    on.load(index, element, volts * volts / element.watts, element.watts / volts)


def _led(on: PartCompiler, index: int, element: Led) -> None:
    volts = element.volts or on.part.volts
    amps = element.watts / volts
    on.load(index, element, max(volts - element.drop_v, 0.1) / amps, amps)


def _resistor(on: PartCompiler, index: int, element: Resistor) -> None:
    on.load(index, element, element.ohms, on.part.volts / element.ohms, on.guard(element.when))


def _gauge(on: PartCompiler, index: int, element: Gauge) -> None:
    """Read as if it were fed with the volts that it is made for: a stabiliser is joined through."""
    share = on.part.volts / (element.volts or on.part.volts)
    on.load(index, element, element.ohms, element.full_scale_amps * share)


def _diode(on: PartCompiler, index: int, element: Diode) -> None:
    on.load(index, element, 0.0, element.amps or 1.0)


def _coil(on: PartCompiler, index: int, element: Coil) -> None:
    key = on.load(index, element, element.ohms, on.part.volts / element.ohms)
    full = on.variable(element.name)
    on.net.variables[full] = Variable(full, "armature", ARMATURE_STATES, ARMATURE_STATES)
    steps = tuple(
        on.variable(e.name) for e in on.part.inside if isinstance(e, Step) and e.stepped_by == element.name
    )
    on.net.armatures[full] = ArmatureLaw(
        full, key, element.ohms, element.pulls_in_v, element.drops_out_v, steps
    )


def _step(on: PartCompiler, _: int, element: Step) -> None:
    full = on.variable(element.name)
    on.net.variables[full] = Variable(full, "step", element.states, element.states)


def _cam(on: PartCompiler, _: int, element: Cam) -> None:
    full = on.variable(element.name)
    on.net.variables[full] = Variable(full, "cam", element.states, element.states)


def _flasher(on: PartCompiler, index: int, element: Flasher) -> None:
    full = on.variable(element.name)
    on.net.variables[full] = Variable(full, "beat", element.states, element.states)
    a, b = (on.node(n) for n in element.between)
    label = f"flasher:{on.place}:{index}"
    on.net.passes.append(Pass(a, b, ((full, frozenset({"light"})),), label))
    supply = (on.node(element.supply[0]), on.node(element.supply[1])) if element.supply else None
    on.net.beats[full] = BeatLaw(full, label, element.needs_amps, supply)
    if supply:
        on.net.watched.update(supply)
    if element.heater_ohms:
        amps = on.part.volts / element.heater_ohms
        on.load(index, element, element.heater_ohms, amps, ((full, frozenset({"rest"})),))


def _fuse(on: PartCompiler, _: int, element: Fuse) -> None:
    a, b = (on.node(n) for n in element.between)
    on.net.passes.append(Pass(a, b, (), f"fuse:{on.place}:{element.between[1]}", element.amps))


def _source(on: PartCompiler, index: int, element: Source) -> None:
    live, back = (on.node(n) for n in element.between)
    on.sources.append((live, back, on.guard(element.when), f"source:{on.place}:{index}"))


def _stabiliser(on: PartCompiler, index: int, element: Stabiliser) -> None:
    """Joined through: what it takes off the volts is the electrical view's business."""
    a, b = (on.node(n) for n in element.between)
    on.net.ties.append(Tie(a, b, (), ("contact", on.place, str(index))))


def _sender(on: PartCompiler, index: int, element: Sender) -> None:
    a, b = (on.node(n) for n in element.between)
    for state, ohms in element.ohms.items():
        guard = on.guard({element.follows: (state,)})
        on.net.conductances.append(Conductance((on.place, f"#{index} {state}"), a, b, ohms, guard))


_BUILDERS: Mapping[type[AnyElement], Callable[[PartCompiler, int, Any], None]] = {
    Control: _control,
    Contact: _contact,
    Lamp: _rated,
    Winding: _rated,
    Resistor: _resistor,
    Coil: _coil,
    Step: _step,
    Cam: _cam,
    Flasher: _flasher,
    Diode: _diode,
    Led: _led,
    Fuse: _fuse,
    Source: _source,
    Sender: _sender,
    Stabiliser: _stabiliser,
    Gauge: _gauge,
}
