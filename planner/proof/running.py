"""An engine does not run where its spark is off: settings that no vehicle stays in.

Whoever switches off is in such a setting until the engine stands. What a generator then lights through its
charge lamp is no behaviour of the vehicle; but where it keeps the spark alive the engine runs on, and all of
it counts.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from planner.model.elements import SPARK
from planner.proof.align import ABSENT, Alignment, Detent
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
    dead = [
        (control.name, detent.label)
        for control in alignment.controls.values()
        if "/" in control.name
        for sparks in [{d: _may_spark(before, after, control.name, d) for d in control.detents}]
        if any(sparks.values())  # where there never is a spark nothing is known of the engine
        for detent, may in sparks.items()
        if not may
    ]
    return tuple(PassedThrough(*engine, *at) for engine in engines for at in dead)


def _drivers(view: View) -> Iterator[tuple[str, frozenset[str]]]:
    """Yield the conditions in which a source gives that does not always, with their states."""
    for supply in view.net.supplies:
        for variable, labels in supply.guard if supply.label.startswith("source:") else ():
            if "/" not in variable:
                yield variable, frozenset(labels)


def _may_spark(before: View, after: View, control: str, detent: Detent) -> bool:
    """Whether an ignition coil of either loom may work with a control at a detent."""
    held = [
        (view, value) for view, value in ((before, detent.before), (after, detent.after)) if value != ABSENT
    ]
    return any(
        is_on(appearance)
        for view, value in held
        for (_, does), load in view.loads.items()
        if does == SPARK
        for appearance in view.projector.restrict(
            load.function, view.variable_number[control], value
        ).values()
    )
