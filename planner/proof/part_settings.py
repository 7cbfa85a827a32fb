"""The settings of two parts side by side: one position for all that means the same on both."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import product
from math import prod

from planner.model.elements import (
    AnyElement,
    Contact,
    Resistor,
    Sender,
    Source,
)
from planner.model.old_names import meanings_as
from planner.model.paired_positions import positions_of
from planner.model.part import Part
from planner.model.same_positions import LabelAndMeaning, PositionPair, same_positions
from planner.model.same_variables import match_variables
from planner.problems import TooLargeError

MAX_POSITIONS = 2048
OTHERWISE = "otherwise"  # a condition at none of the values that either part names


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
        self.match = match_variables(original, other)
        self.names = self.match.names
        self.meanings = meanings_as(original, other)
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
        found = [self._shared(name, self.names.get(name)) for name in self.original.variables]
        for name in self.other.variables:
            if name not in self.back:
                labels = positions_of(self.other, name)
                theirs = {v: (name, label) for v, (label, _) in zip(_told_apart(labels), labels, strict=True)}
                called = f"{name} of the other part" if name in self.original.variables else name
                found.append(SharedVariable(called, tuple(theirs), {}, theirs))
        for name, values in _conditions((self.original, self.other)).items():
            same = {value: (name, value) for value in values}
            # What one part has as a control of its own is a condition of the vehicle to the other alone.
            ours, theirs = ({} if name in p.variables else same for p in (self.original, self.other))
            called = name if ours and theirs else f"{name} of the vehicle"
            found.append(SharedVariable(called, tuple(values), ours, theirs))
        return found

    def _shared(self, name: str, there: str | None) -> SharedVariable:
        """A variable of the original with its like of the other part; positions only of that come last."""
        labels = positions_of(self.original, name)
        labels_there: tuple[LabelAndMeaning, ...] = ()
        if there is not None:
            own = positions_of(self.other, there)
            labels_there = tuple(
                (label, self.meanings.get((there, label), meaning)) for label, meaning in own
            )
        pairs = sorted(same_positions(labels, labels_there), key=lambda p: (p.old is None, p.old or 0))
        said = _told_apart([_label_and_meaning(labels, labels_there, pair) for pair in pairs])
        ours = {v: (name, labels[p.old][0]) for v, p in zip(said, pairs, strict=True) if p.old is not None}
        theirs = {
            v: (there, labels_there[p.new][0])
            for v, p in zip(said, pairs, strict=True)
            if p.new is not None and there is not None
        }
        return SharedVariable(name, tuple(said), ours, theirs)


def _label_and_meaning(
    labels: Sequence[LabelAndMeaning], labels_there: Sequence[LabelAndMeaning], pair: PositionPair
) -> LabelAndMeaning:
    """A pair of positions as one: both labels, and what it means on the original if that has it."""
    found = [
        some[number] for some, number in ((labels, pair.old), (labels_there, pair.new)) if number is not None
    ]
    return "/".join(dict.fromkeys(label for label, _ in found)), found[0][1]


def _told_apart(positions: Sequence[LabelAndMeaning]) -> list[str]:
    """Positions by their meaning, with the label where several have one meaning."""
    meanings = [meaning for _, meaning in positions]
    return [m if meanings.count(m) == 1 else f"{m} ({label})" for label, m in positions]


def _settings(chosen: list[tuple[Mapping[str, tuple[str, str]], str]]) -> tuple[Mapping[str, str], ...]:
    """Every setting of one part that goes with the chosen values; free where it lacks the value."""
    choices = [
        [labels[value]] if value in labels else list(labels.values()) for labels, value in chosen if labels
    ]
    return tuple(dict(setting) for setting in product(*choices))


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
