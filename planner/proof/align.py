"""Positions before and after side by side: matched by control and by what each detent means."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import product
from typing import NamedTuple

from planner.circuit.network import Network, Variable
from planner.model.same_positions import same_positions
from planner.problems import TooLargeError

MOST_COMPARED = 400_000
ABSENT = -1


class Detent(NamedTuple):
    """One detent of a control as it is before and after; ABSENT where it does not exist."""

    label: str
    before: int
    after: int
    is_new: bool
    is_gone: bool
    old: str | None = None  # its label before


@dataclass(frozen=True, slots=True)
class JointControl:
    """One control or condition of either loom."""

    name: str
    detents: tuple[Detent, ...]


class JointSetting(NamedTuple):
    """One setting of some joint controls; settings map a variable's number to its value."""

    labels: tuple[str, ...]
    before: Mapping[int, int] | None  # None if the setting exists only after
    after: Mapping[int, int] | None  # None if it existed only before
    nearest: tuple[
        Mapping[int, int], ...
    ] = ()  # of a new setting: the old ones that differ only in what is new


class Alignment:
    """The controls of two looms, matched; ``removed`` are places where nothing is after.

    What was switched there is at no position any more. So each that it had is held against the loom without
    it: a wire that goes past a battery isolator that came out keeps what was on, and gains what was off.
    """

    def __init__(
        self,
        before: Network,
        after: Network,
        before_numbers: Mapping[str, int],
        after_numbers: Mapping[str, int],
        removed: Collection[str] = (),
    ) -> None:
        self._removed = frozenset(removed)
        self._called = after.called
        self.before_numbers, self.after_numbers = before_numbers, after_numbers
        self.controls: dict[str, JointControl] = {}
        for name in dict.fromkeys((*before.controls, *after.controls)):
            self.controls[name] = _joint(name, before.variables.get(name), after.variables.get(name))

    @cached_property
    def _own_names(self) -> Mapping[str, list[str]]:
        """The controls by the name that their part gives them."""
        found: dict[str, list[str]] = {}
        for name in self.controls:
            found.setdefault(name.rpartition("/")[2], []).append(name)
        for own, name in self._called.items():
            found.setdefault(own.rpartition("/")[2], []).append(name)
        return found

    def full_name(self, name: str) -> str:
        """Full name of a control given by its own name or as place/name, as either part calls it."""
        if name in self.controls:
            return name
        matches = set(self._own_names.get(name, [])) or {self._called.get(name, name)}
        return min(matches) if len(matches) == 1 else name

    def labels_meant(self, name: str, labels: Sequence[str]) -> frozenset[str]:
        """The labels here of some positions of a control, given as the new part labels them or as the old."""
        here = {d.label for d in self.controls[name].detents}
        was = {d.old: d.label for d in self.controls[name].detents}
        return frozenset(label if label in here else was.get(label, label) for label in labels)

    def settings(self, names: Sequence[str]) -> Iterator[JointSetting]:
        """Every setting of the named controls.

        Raises TooLargeError if there are more than can be compared.
        """
        columns = [self.controls[name].detents for name in names]
        size = 1
        for column in columns:
            size *= len(column)
        if size > MOST_COMPARED:
            raise TooLargeError(names, size)
        for row in product(*columns):
            is_new = any(d.is_new for d in row)
            is_gone = any(d.is_gone for d in row)
            if is_new and is_gone:
                continue
            labels = tuple(d.label for d in row)
            before = None if is_new else self._before(names, row)
            nearest = tuple(self._nearest(names, row, columns)) if is_new else ()
            after = None
            if not any(d.is_gone for name, d in zip(names, row, strict=True) if not self._is_removed(name)):
                after = {
                    self.after_numbers[n]: d.after
                    for n, d in zip(names, row, strict=True)
                    if d.after != ABSENT
                }
            yield JointSetting(labels, before, after, nearest)

    def _is_removed(self, name: str) -> bool:
        return name.rpartition("/")[0] in self._removed

    def _before(self, names: Sequence[str], row: Sequence[Detent]) -> Mapping[int, int]:
        return {
            self.before_numbers[n]: d.before for n, d in zip(names, row, strict=True) if d.before != ABSENT
        }

    def _nearest(
        self, names: Sequence[str], row: Sequence[Detent], columns: Sequence[tuple[Detent, ...]]
    ) -> Iterator[Mapping[int, int]]:
        """Old settings with every new detent replaced by each old one of its control."""
        choices = [
            [d for d in column if not d.is_new] if detent.is_new else [detent]
            for detent, column in zip(row, columns, strict=True)
        ]
        for choice in product(*choices):
            yield self._before(names, choice)

    def new_detents(self) -> Iterator[tuple[str, Detent]]:
        """Yield every detent that exists only after."""
        for control in self.controls.values():
            for detent in control.detents:
                if detent.is_new:
                    yield control.name, detent

    def values(self, name: str) -> tuple[str, ...]:
        """Labels of a joint control, rest first."""
        return tuple(d.label for d in self.controls[name].detents)


@lru_cache(maxsize=1024)
def _joint(name: str, old: Variable | None, new: Variable | None) -> JointControl:
    """A control of two looms; kept, for most are the same in every loom of a job."""
    return JointControl(name, tuple(_detents(old, new)))


def _detents(old: Variable | None, new: Variable | None) -> Iterator[Detent]:
    if new is None:
        assert old is not None
        for index, label in enumerate(old.values):
            yield Detent(label, index, ABSENT, False, index > 0)
        return
    if old is None:
        for index, label in enumerate(new.values):
            yield Detent(label, ABSENT, index, index > 0, False)
        return
    seen: set[int] = set()
    ours, theirs = (list(zip(v.values, v.meanings, strict=True)) for v in (old, new))
    for was, now in same_positions(ours, theirs):
        if now is not None and now not in seen:
            seen.add(now)
            yield (
                Detent(new.values[now], ABSENT, now, True, False)
                if was is None
                else Detent(new.values[now], was, now, False, False, old.values[was])
            )
        elif was is not None:  # gone, or one of several that the new control has one position for
            label = old.values[was]
            name = f"{label} (before)" if label in new.values else label
            yield Detent(name, was, ABSENT if now is None else now, False, now is None, label)
