"""Contacts with a rating: what they switch, by the kind of load, against it."""

from collections.abc import Iterator, Sequence

from planner.circuit.fitted import LoadKey
from planner.currents.checks.inspection import Inspection
from planner.currents.solver import Branch
from planner.model.contacts import SwitchLoad
from planner.model.elements import Contact
from planner.model.strain import FAILS_FROM, Strain

# What a kind of load is to a contact: a cold filament and a motor at rest draw many times their current.
LOADS: dict[str, SwitchLoad] = {
    "lamp": "lamp", "winding": "motor", "coil": "inductive",
}  # fmt: skip


def strains(seen: Inspection) -> Iterator[Strain]:
    """Yield for each rated contact the rating that its loads ask for.

    Contacts without a rating in the catalogue are not judged: nothing is known of them.
    """
    volts = seen.loom.supply.volts
    for index, branch in seen.of_kind("contact"):
        element = seen.element(index)
        peak = seen.peaks.get(index)
        assert isinstance(element, Contact)
        if element.amps is None or not element.when or peak is None or peak.amps < 0.01:
            continue
        loads = seen.loads_in(index, peak.sample)
        factor, source, basis = 1.0, "rating of the part", "as the part's own data"
        for load in sorted({_kind(seen, key) for key in loads}):
            published = seen.standards.switch_factor(load, volts)
            if published.value > factor:
                factor, source, basis = published.value, published.source, published.basis
        yield Strain(
            "contact", _named(branch), peak.amps, element.amps / factor, "A", source, basis,
            peak.sample.told, loads, note=_note(element.amps, factor, peak.amps),
            momentary=peak.momentary, rated=element.amps, duty=_duty(seen, loads),
            path=seen.way(loads, peak.sample) if peak.amps > element.amps / factor else (),
        )  # fmt: skip


def _named(branch: Branch) -> str:
    """The terminal that a contact is known by: nobody sees a node inside."""
    return branch.a if "::" in branch.b else branch.b


def _kind(seen: Inspection, key: LoadKey) -> SwitchLoad:
    return LOADS.get(seen.survey.positions.view.net.loads[key].kind, "resistive")


def _note(rated: float, factor: float, amps: float) -> str:
    note = f"rated {rated:g} A, divided by {factor:g}"
    return f"{note}; it passes more than the whole of it" if amps > FAILS_FROM * rated else note


def _duty(seen: Inspection, loads: Sequence[LoadKey]) -> str:
    """What it serves on the road; nothing where it serves other things as well, which may be off."""
    duties = {seen.survey.positions.view.net.loads[key].duty for key in loads}
    return duties.pop() if len(duties) == 1 else "none"
