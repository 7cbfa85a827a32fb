"""A loom as nodes, elements and variables; the circuit knows nothing of vehicles beyond this."""

from dataclasses import dataclass, field
from typing import Literal

from planner.circuit.fitted import Guard, LoadKey
from planner.model.fuses import Marked
from planner.model.loom import split_address

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
    marked: Marked = "continuous"  # what the amps mean


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
    called: dict[str, str] = field(default_factory=dict)  # variables that a part calls otherwise, place/name

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
        self.called |= other.called

    @property
    def hidden(self) -> tuple[str, ...]:
        """The variables that nobody moves: armatures, steps, cams and beats."""
        return tuple(name for name, v in self.variables.items() if v.kind in HIDDEN_KINDS)

    @property
    def controls(self) -> tuple[str, ...]:
        """The variables that a person or the vehicle moves."""
        return tuple(name for name, v in self.variables.items() if v.kind not in HIDDEN_KINDS)


def node_of(address: str) -> str:
    """The node an address belongs to: all of the body is one node while joints are ideal."""
    return EARTH if split_address(address)[0] == EARTH else address
