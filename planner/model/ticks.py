"""What a person has ticked on a bench sheet, and what turned out otherwise."""

from dataclasses import dataclass

from planner.problems import FilePlace


@dataclass(frozen=True, slots=True)
class Tick:
    """A step that is done, by its number in the plan or by its id."""

    step: str
    place: FilePlace


@dataclass(frozen=True, slots=True)
class OtherPart:
    """The part to be fitted at a place turned out to be another."""

    at: str
    part: str
    place: FilePlace


@dataclass(frozen=True, slots=True)
class BrokenEnd:
    """The terminal on one end of a wire broke; ``at`` is where the end sits, before the work or after it."""

    wire: str
    at: str
    place: FilePlace


@dataclass(frozen=True, slots=True)
class CutWire:
    """A wire was found cut, or its insulation cracked."""

    wire: str
    place: FilePlace


Found = OtherPart | BrokenEnd | CutWire


@dataclass(frozen=True, slots=True)
class Ticks:
    """Everything that one file says."""

    done: tuple[Tick, ...] = ()
    found: tuple[Found, ...] = ()
