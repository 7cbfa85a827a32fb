"""Compiles one fitted part: every kind of element has its builder here."""

from collections.abc import Callable, Mapping
from itertools import pairwise
from typing import Any

from planner.circuit.fitted import FittedPart, Guard, LoadKey
from planner.circuit.network import (
    EARTH,
    ArmatureLaw,
    BeatLaw,
    CamLaw,
    Conductance,
    LoadInfo,
    Network,
    Pass,
    Tie,
    Variable,
)
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
from planner.model.loom import Place
from planner.model.part import Part
from planner.model.starting import sprung_positions

Pole = tuple[str, str, Guard, str]  # live node, return node, guard, label


class PartCompiler(FittedPart):
    """Compiles one fitted part into a network of its own, and the sources in it."""

    def __init__(self, fitted: Place, place: str, part: Part) -> None:
        super().__init__(place, part, fitted.called)
        self.fitted = fitted
        self.net = Network(part.volts)
        self.sources: list[Pole] = []
        self.names: dict[str, LoadKey] = {}

    def compile(self) -> "PartCompiler":
        """Add everything inside."""
        self.net.called = {f"{self.place}/{own}": f"{self.place}/{name}" for own, name in self.called.items()}
        for mark, terminal in self.part.terminals.items():
            self.net.nodes.add(self.node(mark))
            if terminal.by == "mounting" and self.fitted.mounting != "insulated":
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


_AnyLoad = Lamp | Winding | Resistor | Coil | Flasher | Led | Gauge | Diode | Sender


def _control(on: PartCompiler, _: int, element: Control) -> None:
    full = on.variable(element.name)
    on.net.variables[full] = Variable(
        full,
        "control",
        tuple(p.label for p in element.positions),
        tuple(on.fitted.meanings.get((element.name, p.label), p.meaning) for p in element.positions),
        sprung_positions(element),
    )


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
    on.net.passes.append(
        Pass(a, b, (), f"fuse:{on.place}:{element.between[1]}", element.amps, element.marked)
    )


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
