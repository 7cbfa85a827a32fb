"""What is told of a loom as it is found: every word of it, with nothing left to compute."""

from dataclasses import asdict, dataclass
from typing import Any, Literal

FindingKind = Literal[
    "battery-open",
    "short-circuit",
    "fed-twice",
    "finds-no-rest",
    "never-works",
    "never-live",
    "ends-nowhere",
    "wants-something",
    "colour",
    "assumed",
    "marks",
]


@dataclass(frozen=True, slots=True)
class Way:
    """One way in which a load is fed: the source, what protects it, the switches, the wires, the earth."""

    source: str
    fuses: tuple[str, ...]  # from the source on
    through: tuple[str, ...]  # switches, relays, flashers and other loads on the way to the load
    wires: tuple[str, ...]  # with their colours, from the source to the load
    earth: str  # how it gets to earth from there
    when: str = ""  # if there are other ways


@dataclass(frozen=True, slots=True)
class LoadLine:
    """What one load does, and how it is fed."""

    what: str
    at: str
    title: str
    works: tuple[tuple[str, str], ...]  # how it appears, and when
    ways: tuple[Way, ...]


@dataclass(frozen=True, slots=True)
class FindingLine:
    """Something that a restorer should know of a loom."""

    kind: FindingKind
    at: str  # an address, a place or a wire
    text: str
    when: str = ""


@dataclass(frozen=True, slots=True)
class LoomAccount:
    """A whole loom, explained."""

    loom: str
    title: str
    supply: str
    loads: tuple[LoadLine, ...]
    findings: tuple[FindingLine, ...]
    not_seen: tuple[str, ...]

    def as_json(self) -> dict[str, Any]:
        """Everything, by field."""
        return asdict(self)


@dataclass(frozen=True, slots=True)
class SwapLine:
    """One swap of a job: what is there, and what takes its place; empty where there is nothing."""

    at: str
    title: str
    old: str
    new: str

    def as_json(self) -> dict[str, Any]:
        """Everything, by field."""
        return asdict(self)
