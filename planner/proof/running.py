"""An engine does not run where its spark is off: settings that no vehicle stays in.

Whoever switches off is in such a setting until the engine stands. What a generator then lights through its
charge lamp is no behaviour of the vehicle; but where it keeps the spark alive the engine runs on, and all of
it counts.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from planner.circuit.tree import Function
from planner.model.elements import SPARK
from planner.proof.align import ABSENT, Alignment
from planner.proof.behaviour import View, is_on


@dataclass(frozen=True, slots=True)
class PassedThrough:
    """A control's detent at which no spark can be, and the states of a condition that the engine runs in."""

    condition: str
    running: frozenset[str]
    control: str
    label: str

    def holds(self, position: Mapping[str, str]) -> bool:
        """Whether a position, given by labels, is one of those."""
        return position.get(self.control) == self.label and position.get(self.condition) in self.running


def passed_through_in(view: View) -> tuple[PassedThrough, ...]:
    """The same of one loom."""
    numbers = view.variable_number
    return passed_through(view, view, Alignment(view.net, view.net, numbers, numbers))


def passed_through(before: View, after: View, alignment: Alignment) -> tuple[PassedThrough, ...]:
    """The detents at which neither loom can have a spark, each with what says that the engine runs."""
    engines = sorted({driver for view in (before, after) for driver in _drivers(view)}, key=str)
    before_sparks, after_sparks = _sparks(before), _sparks(after)
    dead = [
        (control.name, detent.label)
        for control in alignment.controls.values()
        if "/" in control.name
        for sparks in [
            [
                _may_spark(before, before_sparks, control.name, detent.before)
                or _may_spark(after, after_sparks, control.name, detent.after)
                for detent in control.detents
            ]
        ]
        if any(sparks)  # where there never is a spark nothing is known of the engine
        for detent, may in zip(control.detents, sparks, strict=True)
        if not may
    ]
    return tuple(PassedThrough(*engine, *at) for engine in engines for at in dead)


def _drivers(view: View) -> Iterator[tuple[str, frozenset[str]]]:
    """Yield the conditions in which a source gives that does not always, with their states."""
    for supply in view.net.supplies:
        for variable, labels in supply.guard if supply.label.startswith("source:") else ():
            if "/" not in variable:
                yield variable, frozenset(labels)


def _sparks(view: View) -> list[Function]:
    """When the ignition coils of a loom work."""
    return [load.function for (_, does), load in view.loads.items() if does == SPARK]


def _may_spark(view: View, sparks: list[Function], control: str, value: int) -> bool:
    """Whether an ignition coil of a loom may work with a control at a value."""
    return value != ABSENT and any(
        is_on(appearance)
        for spark in sparks
        for appearance in view.projector.restrict(spark, view.variable_number[control], value).values()
    )
