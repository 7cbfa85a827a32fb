"""Needs: the questions a swap opens, and proposals: the ways to settle them."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from planner.model.delta import Operation, Reason
from planner.model.strain import Strain

# Otherwise: as before, but worked by another control.
Outcome = Literal["kept", "gained", "lost", "changed", "unintended", "otherwise"]
HazardKind = Literal[
    "short",
    "feeds-tied",
    "live-loose-end",
    "bare-live-terminal",
    "back-feed",
    "drain",
    "chatter",
    "dead-position",
]


@dataclass(frozen=True, slots=True)
class LooseEnd:
    """An end that the swap left without a terminal; ``was`` is where it sat."""

    wire: str
    end: int
    was: str


@dataclass(frozen=True, slots=True)
class BareTerminal:
    """A terminal of a newly fitted part on which no end sits."""

    at: str


@dataclass(frozen=True, slots=True)
class FullTerminal:
    """A terminal that carries more ends than it holds."""

    at: str
    ends: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class WrongFitting:
    """An end whose fitting does not go on the terminal it is meant for."""

    wire: str
    end: int
    at: str


@dataclass(frozen=True, slots=True)
class ShortReach:
    """An end that does not reach the terminal it is meant for."""

    wire: str
    end: int
    at: str
    metres: float  # how much is missing


@dataclass(frozen=True, slots=True)
class WireToMake:
    """A new wire of which only the two ends are settled so far."""

    wire: str
    role: str | None


@dataclass(frozen=True, slots=True)
class Fault:
    """A behaviour or hazard of a proven loom that is not as it should be.

    ``positions`` are the positions in which it shows (variable: label, only those that matter);
    ``path`` is the way that fed the load before, terminal by terminal from the live pole, if there was one.
    *Unused* is what a new part could do besides what it does, and nobody asked for: no loss, but worth
    a wire.
    """

    kind: Literal["lost", "changed", "unintended", "missing", "unused", "hazard", "strain"]
    what: str  # plain name of the load's task, or the hazard's or strain's kind
    at: str  # place, or address for a hazard; what is strained
    duty: str = "none"
    positions: tuple[Mapping[str, str], ...] = ()
    share: float = 1.0  # share of all positions compared in which it shows
    path: tuple[str, ...] = ()
    hazard: HazardKind | None = None
    control: str | None = None  # for a dead position: the control
    detail: str = ""
    accepted: bool = False
    strain: Strain | None = None

    @property
    def is_loss(self) -> bool:
        """Whether something is worse for it: not what only wears or dims, nor what a new part could do."""
        return self.kind != "unused" and not (self.strain is not None and self.strain.is_wearing)

    @property
    def identity(self) -> tuple[str, str, str, str | None]:
        """What makes two faults of different looms the same fault."""
        return (self.kind, self.what, self.at, self.hazard)


@dataclass(frozen=True, slots=True)
class Fitted:
    """Raised once for each part the settled plan fits: for remarks, questions and offers about it."""

    at: str


@dataclass(frozen=True, slots=True)
class LeansOn:
    """An end or place whose weight is only assumed and on which the settled plan leans."""

    at: str
    wire: str | None = None
    end: int | None = None


@dataclass(frozen=True, slots=True)
class OtherVolts:
    """A part that the job leaves in its place while the vehicle's volts become others than its own."""

    at: str


@dataclass(frozen=True, slots=True)
class OtherPole:
    """A part that the job leaves in its place while the other pole is earthed."""

    at: str


Need = (
    LooseEnd
    | BareTerminal
    | FullTerminal
    | WrongFitting
    | ShortReach
    | WireToMake
    | Fault
    | Fitted
    | LeansOn
    | OtherVolts
    | OtherPole
)


@dataclass(frozen=True, slots=True)
class Proposal:
    """One way to settle a need: operations, and why."""

    operations: tuple[Operation, ...]
    why: Reason
    offer: bool = False  # shown beside the plan, never made unasked
    gives_up: str = ""  # of an offer: what no load shows, such as a safety that is gone


@dataclass(frozen=True, slots=True)
class Question:
    """A reading that must be taken before the plan can be trusted."""

    about: str
    where: str  # where the meter goes
    how: str  # switch positions, meter range
    answers: tuple[tuple[str, str], ...]  # reading, what it means
    why: Reason
    after_work: bool = False  # it cannot be taken before the last step is done


@dataclass(frozen=True, slots=True)
class Remark:
    """Something the restorer should know that is neither a step nor a fault of the plan."""

    text: str
    why: Reason
    is_open: bool = False  # the plan is not settled while it is so
    but: str = ""  # what of it the verdict says as well: all works as before, and yet


Emission = Proposal | Question | Remark
