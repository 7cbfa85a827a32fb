"""The settings of two parts side by side: one position for all that means the same on both."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import product
from math import prod

from planner.model.elements import (
    AnyElement,
    Cam,
    Coil,
    Contact,
    Control,
    Flasher,
    Resistor,
    Sender,
    Source,
    Step,
)
from planner.model.part import Part
from planner.problems import TooLargeError

MAX_POSITIONS = 2048
OTHERWISE = "otherwise"  # a condition at none of the values that either part names
_KINDS = (Control, Coil, Step, Cam, Flasher)


@dataclass(frozen=True)
class SharedVariable:
    """A variable of either part or of both; each value by its meaning, with the label that each part uses."""

    name: str
    values: tuple[str, ...]
    original: Mapping[str, tuple[str, str]]  # meaning: the part's own variable and label
    other: Mapping[str, tuple[str, str]]


@dataclass(frozen=True)
class PairedPosition:
    """One position, and every setting in which each part can be then.

    A part that lacks the detent can be in any of its own; a part that lacks the variable knows no difference.
    """

    values: tuple[str, ...]
    original: tuple[Mapping[str, str], ...]
    other: tuple[Mapping[str, str], ...]
    original_has_it: bool
    other_has_it: bool
    is_new: bool  # only the other part has a variable that is off its rest


class PairedSettings:
    """All positions of two parts, matched by variable and by what each value means."""

    def __init__(self, original: Part, other: Part) -> None:
        self.original, self.other = original, other
        self.names = _same_variables(original, other)
        self.back = {theirs: ours for ours, theirs in self.names.items()}
        self.variables = tuple(self._variables())
        size = prod(len(v.values) for v in self.variables)
        if size > MAX_POSITIONS:
            raise TooLargeError([v.name for v in self.variables], size)

    @cached_property
    def positions(self) -> tuple[PairedPosition, ...]:
        """Every combination of values."""
        return tuple(
            self._position(values) for values in product(*(variable.values for variable in self.variables))
        )

    def _position(self, values: tuple[str, ...]) -> PairedPosition:
        chosen = list(zip(self.variables, values, strict=True))
        return PairedPosition(
            values=values,
            original=_settings([(v.original, value) for v, value in chosen]),
            other=_settings([(v.other, value) for v, value in chosen]),
            original_has_it=all(not v.original or value in v.original for v, value in chosen),
            other_has_it=all(not v.other or value in v.other for v, value in chosen),
            is_new=any(not v.original and value != v.values[0] for v, value in chosen),
        )

    def _variables(self) -> list[SharedVariable]:
        found = []
        for name in self.original.variables:
            ours = _meanings(self.original, name)
            theirs = _meanings(self.other, self.names[name]) if name in self.names else {}
            values = dict.fromkeys((*ours, *theirs))
            found.append(SharedVariable(name, tuple(values), ours, theirs))
        for name in self.other.variables:
            if name not in self.back:
                theirs = _meanings(self.other, name)
                called = f"{name} of the other part" if name in self.original.variables else name
                found.append(SharedVariable(called, tuple(theirs), {}, theirs))
        for name, values in _conditions((self.original, self.other)).items():
            same = {value: (name, value) for value in values}
            # What one part has as a control of its own is a condition of the vehicle to the other alone.
            ours, theirs = ({} if name in p.variables else same for p in (self.original, self.other))
            called = name if ours and theirs else f"{name} of the vehicle"
            found.append(SharedVariable(called, tuple(values), ours, theirs))
        return found


def _settings(chosen: list[tuple[Mapping[str, tuple[str, str]], str]]) -> tuple[Mapping[str, str], ...]:
    """Every setting of one part that goes with the chosen values; free where it lacks the value."""
    choices = [
        [labels[value]] if value in labels else list(labels.values()) for labels, value in chosen if labels
    ]
    return tuple(dict(setting) for setting in product(*choices))


def _same_variables(original: Part, other: Part) -> dict[str, str]:
    """Each variable of the original that the other has too: by name, or as the only one left of its kind."""
    found: dict[str, str] = {}
    for kind in _KINDS:
        ours = [e.name for e in original.inside if isinstance(e, kind)]
        theirs = [e.name for e in other.inside if isinstance(e, kind)]
        found |= {name: name for name in ours if name in theirs}
        left = [name for name in ours if name not in theirs]
        left_there = [name for name in theirs if name not in ours]
        if len(left) == len(left_there) == 1:
            shared = _meanings(original, left[0]).keys() & _meanings(other, left_there[0]).keys()
            if shared:
                found[left[0]] = left_there[0]
    return found


def _meanings(part: Part, name: str) -> dict[str, tuple[str, str]]:
    if name in part.controls:
        return {p.meaning: (name, p.label) for p in part.controls[name].positions}
    return {value: (name, value) for value in part.variables[name]}


def _conditions(parts: tuple[Part, Part]) -> dict[str, dict[str, None]]:
    """Vehicle-wide names that either part waits for, with the values named and one that nobody names."""
    found: dict[str, dict[str, None]] = {}
    for part in parts:
        for element in part.inside:
            for name, values in _waits_for(element).items():
                if name not in part.variables:
                    found.setdefault(name, {OTHERWISE: None}).update(dict.fromkeys(values))
    return found


def _waits_for(element: AnyElement) -> Mapping[str, tuple[str, ...]]:
    if isinstance(element, Contact | Resistor | Source):
        return element.when
    return {element.follows: tuple(element.ohms)} if isinstance(element, Sender) else {}
