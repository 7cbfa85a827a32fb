"""Looms on the way to a plan, how heavy their faults weigh, and what makes two of them equal."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from planner.model.delta import Step
from planner.model.loom import Loom
from planner.model.need import Fault, Need, Proposal, Question, Remark
from planner.model.strain import DANGEROUS

ROAD_DUTIES = ("head", "tail", "stop", "signal", "hazard")
DEAD = 0.45  # what a dead position weighs of a loss: always less than one, for there nothing worked before

Weight = tuple[float, ...]


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
        """Less is better: faults in the order of severity, then minutes.

        So without its last number it says how much is wrong, and without its last three how much of that is
        more than what only wears or what a new part could do besides.
        """
        return (*fault_weight(self.faults), round(self.candidate.minutes, 6))


def fault_weight(faults: Sequence[Fault]) -> Weight:
    """Faults as numbers, most severe first: unsafe; road lamps unintended, lost, changed; then the rest.

    Within a class the share of positions counts, so that a repair of half the positions is an improvement.
    Accepted losses do not count. A strain that can burn something is unsafe; one that only wears or dims
    comes after everything else; what turns or reads backwards does what nobody wants; a battery that is no
    longer charged loses the road lamps; any other is a change. What a new part could do besides is no loss,
    but worth more than a drop of volts.
    """
    weight = [0.0] * 9
    for fault in faults:
        if fault.accepted:
            continue
        amount = 1.0 + fault.share
        if fault.hazard == "dead-position":
            amount *= DEAD
        elif fault.kind == "hazard":
            weight[0] += amount
            continue
        if fault.strain is not None and fault.strain.kind in DANGEROUS:
            weight[0] += amount
            continue
        if fault.strain is not None and fault.strain.is_wearing:
            weight[8] += amount
            continue
        if fault.kind == "unused":
            weight[7] += amount
            continue
        if fault.strain is not None and fault.strain.kind == "not-charging":
            weight[2] += amount  # the battery runs flat, and with it every lamp on the road
            continue
        base = 1 if fault.duty in ROAD_DUTIES else 4
        if fault.kind == "unintended" or (fault.strain is not None and fault.strain.kind == "reversed"):
            weight[base] += amount
        elif fault.kind in ("changed", "strain"):
            weight[base + 2] += amount
        else:
            weight[base + 1] += amount
    return tuple(round(w, 9) for w in weight)


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
