"""Contacts with a rating: what they switch, by the kind of load, against it."""

from collections.abc import Iterator

from planner.circuit.fitted import LoadKey
from planner.currents.checks.inspection import Inspection
from planner.model.contacts import SwitchLoad
from planner.model.elements import Contact
from planner.model.strain import Strain

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
            "contact", branch.b, peak.amps, element.amps / factor, "A", source, basis,
            peak.sample.told, loads, note=f"rated {element.amps:g} A, divided by {factor:g}",
            momentary=peak.momentary,
            path=seen.way(loads, peak.sample) if peak.amps > element.amps / factor else (),
        )  # fmt: skip


def _kind(seen: Inspection, key: LoadKey) -> SwitchLoad:
    return LOADS.get(seen.survey.positions.view.net.loads[key].kind, "resistive")
