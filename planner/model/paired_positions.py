"""The positions that two parts share, side by side, by which variable of one is which of the other."""

from collections.abc import Mapping, Sequence
from itertools import product
from math import prod
from typing import NamedTuple

from planner.model.contact_table import Position, conditions_of
from planner.model.part import Part
from planner.model.same_positions import LabelAndMeaning, same_positions

MAX_POSITIONS = 512


def positions_of(part: Part, name: str) -> tuple[LabelAndMeaning, ...]:
    """Label and meaning of each position of a variable; what nobody labels means what it is called."""
    if name in part.controls:
        return tuple((p.label, p.meaning) for p in part.controls[name].positions)
    return tuple((value, value) for value in part.variables[name])


def shared_labels(old: Part, new: Part, name: str, other: str) -> list[tuple[str, str]]:
    """The labels of each position that a variable of both parts has: on the old part, on the new."""
    ours, theirs = positions_of(old, name), positions_of(new, other)
    pairs = same_positions(ours, theirs)
    return [(ours[p.old][0], theirs[p.new][0]) for p in pairs if p.old is not None and p.new is not None]


def paired_positions(old: Part, new: Part, names: Mapping[str, str]) -> tuple[list[Position], list[Position]]:
    """Every position that two parts share, side by side, conditions of the vehicle among them.

    None if there are too many of them, or a variable of both has none.
    """
    axes = _axes(old, new, names)
    if not 1 <= prod(len(axis.values) for axis in axes) <= MAX_POSITIONS:
        return [], []
    return _settings(axes, list(product(*(axis.values for axis in axes))))


def one_at_a_time(old: Part, new: Part, names: Mapping[str, str]) -> tuple[list[Position], list[Position]]:
    """The positions that two parts share with all variables but one at their first."""
    axes = [axis for axis in _axes(old, new, names) if axis.values]
    rest = [axis.values[0] for axis in axes]
    rows = [rest]
    for number, axis in enumerate(axes):
        rows += [[*rest[:number], value, *rest[number + 1 :]] for value in axis.values[1:]]
    return _settings(axes, rows)


class _Axis(NamedTuple):
    """A variable of both parts, or a condition of the vehicle: its name in each, and the values in each."""

    old: str | None
    new: str | None
    values: list[tuple[str, str]]


def _axes(old: Part, new: Part, names: Mapping[str, str]) -> list[_Axis]:
    axes = [_Axis(name, other, shared_labels(old, new, name, other)) for name, other in names.items()]
    for name, values in conditions_of((old, new)).items():
        # What one part has as a variable of its own is a condition of the vehicle to the other alone.
        own, theirs = (None if name in part.variables else name for part in (old, new))
        axes.append(_Axis(own, theirs, [(value, value) for value in values]))
    return axes


def _settings(
    axes: Sequence[_Axis], rows: Sequence[Sequence[tuple[str, str]]]
) -> tuple[list[Position], list[Position]]:
    ours: list[Position] = []
    theirs: list[Position] = []
    for row in rows:
        ours.append({axis.old: one for axis, (one, _) in zip(axes, row, strict=True) if axis.old})
        theirs.append({axis.new: two for axis, (_, two) in zip(axes, row, strict=True) if axis.new})
    return ours, theirs
