"""Which position of one control or memory is which of another: by what each means, then by its label."""

from collections.abc import Sequence
from typing import NamedTuple

LabelAndMeaning = tuple[str, str]


class PositionPair(NamedTuple):
    """A position of the old variable and one of the new, by number; None where one of them lacks it."""

    old: int | None
    new: int | None


def same_positions(
    old: Sequence[LabelAndMeaning], new: Sequence[LabelAndMeaning]
) -> tuple[PositionPair, ...]:
    """Every position of two variables, paired: those of the new one in order, then what only the old one has.

    Equal meanings pair. Where a position's meaning is not on the other side at all, a label that says
    what the other means does too. A meaning may stand at several positions: each of them finds a partner, so
    that none escapes comparison.
    """
    partners = [_partner(position, old, new) for position in new]
    pairs = [PositionPair(partner, number) for number, partner in enumerate(partners)]
    for number, position in enumerate(old):
        if number not in partners:
            pairs.append(PositionPair(number, _partner(position, new, old)))
    return tuple(pairs)


def count_shared(pairs: Sequence[PositionPair]) -> int:
    """How many positions the two variables share."""
    return min(len({p.old for p in pairs if None not in p}), len({p.new for p in pairs if None not in p}))


def _partner(
    position: LabelAndMeaning, others: Sequence[LabelAndMeaning], own: Sequence[LabelAndMeaning]
) -> int | None:
    """The number of the position on the other side that stands for this one."""
    label, meaning = position
    alike = [number for number, other in enumerate(others) if other[1] == meaning]
    if alike:
        return next((number for number in alike if others[number][0] == label), alike[0])
    meanings = {own_meaning for _, own_meaning in own}
    free = [number for number, other in enumerate(others) if other[1] not in meanings]
    said = [number for number in free if others[number][0] == meaning or others[number][1] == label]
    return said[0] if len(said) == 1 else None
