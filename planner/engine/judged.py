"""Looms on the way to a plan, and what makes two of them equal."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from planner.engine.weight import Weight, weigh
from planner.model.delta import Step
from planner.model.loom import Loom
from planner.model.need import Fault, Need, Proposal, Question, Remark


@dataclass(frozen=True)
class Candidate:
    """A loom on the way to a plan, and how it came about."""

    loom: Loom
    steps: tuple[Step, ...]
    minutes: float
    closed: frozenset[Need] = frozenset()  # bare terminals that need nothing
    made: frozenset[str] = frozenset()
    taken: frozenset[str] = frozenset()
    roles: Mapping[str, str | None] = field(default_factory=dict)  # of new wires
    repairs: int = 0
    notes: tuple[Question | Remark, ...] = ()


@dataclass(frozen=True)
class Branch:
    """A real choice met on the way: the candidate before it, and what could be done."""

    need: Need
    before: Candidate
    proposals: Sequence[Proposal]
    taken: Proposal


@dataclass(frozen=True)
class Judged:
    """A settled loom with its faults."""

    candidate: Candidate
    faults: tuple[Fault, ...]
    parent: "Judged | None" = None
    title: str = ""

    @property
    def has_faults(self) -> bool:
        """Whether anything is wrong that is not accepted."""
        return any(not fault.accepted for fault in self.faults)

    @property
    def weight(self) -> Weight:
        """Less is better: faults in the order of severity, then minutes."""
        return weigh(self.faults, round(self.candidate.minutes, 6))


def signature(loom: Loom) -> object:
    """Equal for equal looms, however they were reached."""
    return (
        tuple(sorted((name, p.part, p.mounting) for name, p in loom.places.items())),
        frozenset(
            (
                w.wire,
                w.colour,
                w.mm2,
                w.metres,
                tuple((e.at, e.fitting, e.covered, e.spare_metres) for e in w.ends),
            )
            for w in loom.wires
        ),
        tuple(sorted(loom.piggybacks)),
        tuple(sorted(loom.covered)),
        tuple(sorted(loom.fuses.items())),
    )


def wiring(loom: Loom) -> object:
    """Equal for looms that are connected alike, whatever their wires are made of: they have one verdict."""
    return (
        tuple(sorted((name, p.part, p.mounting) for name, p in loom.places.items())),
        frozenset((w.wire, tuple((e.at, e.covered) for e in w.ends)) for w in loom.wires),
        tuple(sorted(loom.covered)),
    )
