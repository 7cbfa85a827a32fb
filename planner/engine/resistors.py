"""Resistors of the catalogue: the one that suits, and how it is fitted beside a lamp."""

import math
from collections.abc import Callable, Iterator
from dataclasses import replace

from planner.engine.case import Case
from planner.engine.drafting import draft_wire
from planner.engine.suiting import parts_of
from planner.model.delta import Fit, Operation
from planner.model.elements import Resistor
from planner.model.loom import Place, split_address
from planner.model.part import Part

WATTS_SHARE = 1.5  # rated dissipation over what is burnt without a pause: common practice, no source


# Of the most ohms that one may have beside a lamp: less only warms it; common practice, no source.
SMALLEST = 2 / 3
_SIZES_WATTS = (1, 2, 5, 10, 25)  # in which wire-wound resistors are sold; common practice, no source


def made_for_watts(volts: float, ohms: float) -> float:
    """The size, in W, of a resistor that is across the whole supply without a pause."""
    wanted = WATTS_SHARE * volts**2 / ohms
    return next((size for size in _SIZES_WATTS if size >= wanted), math.ceil(wanted))


def find_resistor(
    case: Case, family: str, ohms: tuple[float, float], burns: Callable[[float], float]
) -> tuple[Part, Resistor] | None:
    """The resistor with the most ohms within a range that stands what it burns.

    ``ohms`` are the least and the most; ``burns`` gives the watts that some ohms burn without a pause.
    """
    found = [
        (-element.ohms, part.part, part, element)
        for part, element in _resistors(case, family)
        if ohms[0] <= element.ohms <= ohms[1]
        and (element.watts or 0.0) >= WATTS_SHARE * burns(element.ohms)
    ]  # fmt: skip
    return min(found, key=lambda f: f[:2])[2:] if found else None


def _resistors(case: Case, family: str) -> Iterator[tuple[Part, Resistor]]:
    for part in parts_of(case, family):
        for element in part.inside:
            if isinstance(element, Resistor):
                yield part, element


def draft_beside(case: Case, part: Part, one: str, other: str) -> tuple[Operation, ...]:
    """A resistor fitted on metal beside what sits between two addresses, with a wire to each."""
    beside = split_address(one)[0]
    name = f"{beside}.{part.family}"
    title = f"resistor beside the {case.loom.place_title(beside)}"
    zone = case.zone(one) or ""
    fit = Fit(name, Place(part=part.part, zone=zone, mounting="metal", title=title, known="measured"))
    there = replace(case, loom=fit.apply(case.loom))
    first, last = part.terminals
    return (
        fit,
        draft_wire(there, one, f"{name}:{first}", case.role(one)),
        draft_wire(there, f"{name}:{last}", other, case.role(other)),
    )
