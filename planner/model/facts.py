"""What each conductor is, as computed from the circuit before."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from planner.model.fuses import Marked

Nature = Literal["always-live", "ignition-live", "switched-live", "earth", "switched-earth", "load", "dead"]


@dataclass(frozen=True, slots=True)
class ConductorFact:
    """What the conductor at an address is, in every position.

    ``live`` and ``earthed`` say whether it is tied to the live pole or to earth in all, some or no positions;
    ``when`` is the condition for the *some*, in words. ``loads`` are the loads that hang directly on it.
    """

    nature: Nature
    live: Literal["always", "sometimes", "never"] = "never"
    earthed: Literal["always", "sometimes", "never"] = "never"
    when: str = ""
    depends_on: tuple[str, ...] = ()  # variables that switch it
    loads: tuple[tuple[str, str], ...] = ()  # place, does
    fuse: str | None = None  # address of the fuse terminal it is fed through, if always the same
    fuse_amps: float | None = None
    fuse_marked: Marked = "continuous"  # what these amps mean
    addresses: tuple[str, ...] = ()  # every terminal on the same conductor, wires only


@dataclass(frozen=True, slots=True)
class Facts:
    """The facts of one loom by address, and the loads that each fuse alone feeds, behind switches too."""

    by_address: Mapping[str, ConductorFact] = field(default_factory=dict)
    fused_loads: Mapping[str, tuple[tuple[str, str], ...]] = field(default_factory=dict)  # by fuse or feed

    def at(self, address: str) -> ConductorFact:
        """The fact at an address; an address unknown to the circuit is dead."""
        return self.by_address.get(address, _DEAD)


_DEAD = ConductorFact(nature="dead")
