"""Loads: what their circuits lose, what does not pull in, and what burns more than it is made for."""

from collections.abc import Iterator, Sequence
from functools import partial

from planner.circuit.fitted import LoadKey
from planner.currents.checks.inspection import Inspection
from planner.currents.sample import Sample
from planner.model.drops import Circuit
from planner.model.elements import AnyElement, Coil, Diode, Gauge, Lamp, Led, Resistor, Source, Winding
from planner.model.strain import Strain

STARTER_WATTS = 500.0  # a winding from here on is a starter's; its own drop limit is another


def strains(seen: Inspection) -> Iterator[Strain]:
    """Yield drops, coils that do not pull in, and what burns more than it is made for."""
    for key, index in seen.survey.grid.loads.items():
        info = seen.survey.positions.view.net.loads.get(key)
        if info is None:
            continue
        element = seen.element(index)
        if isinstance(element, Resistor | Diode):
            yield from _burns(seen, key, index, element)
        elif isinstance(element, Coil):
            yield from _pulls_in(seen, key, element)
        elif info.is_task and not is_ammeter(element):
            samples = seen.lasting(seen.survey.alone.get(key, ()))
            if samples:
                yield from seen.once(
                    ("drop", index), tuple(samples), partial(_drop, seen, key, index, samples)
                )
    yield from _generators(seen)


def is_ammeter(element: AnyElement) -> bool:
    """Whether it is in line with what it shows, so that its way is no other than theirs."""
    return isinstance(element, Gauge) and element.is_in_series


def _drop(seen: Inspection, key: LoadKey, index: int, samples: Sequence[Sample]) -> Iterator[Strain]:
    """The volts that a load's own circuit loses, as the limits mean it: nothing else is switched on."""
    drop, sample = max(((lost_volts(seen, index, s), s) for s in samples), key=lambda each: each[0])
    volts = abs(sample.across(index))
    limit = seen.standards.drop_limit(_circuit(seen, key, index), seen.loom.supply.volts)
    info = seen.survey.positions.view.net.loads[key]
    yield Strain(
        "drop", key[0], drop, limit.value, "V", limit.source, limit.basis, sample.told, (key,),
        path=seen.path(index, sample), duty=info.duty,
        note=f"{key[1]}: {volts:.2f} V left",
    )  # fmt: skip


def lost_volts(seen: Inspection, index: int, sample: Sample) -> float:
    """What the wires, contacts, fuses and earths on the way of a load's current take, in V."""
    grid = seen.survey.grid.branches
    way = (*sample.flow.before(index), *sample.flow.after(index))
    return sum(abs(sample.across(i)) for i in way if grid[i].kind not in ("load", "stabiliser"))


def _circuit(seen: Inspection, key: LoadKey, index: int) -> Circuit:
    element, info = seen.element(index), seen.survey.positions.view.net.loads[key]
    if info.duty == "head":
        return "headlamp"
    if isinstance(element, Lamp | Led):
        return "lamp below 15 W" if element.watts < 15 else "lamp above 15 W"
    if isinstance(element, Winding) and element.watts >= STARTER_WATTS:
        return "starter main"
    return "general"


def _pulls_in(seen: Inspection, key: LoadKey, element: Coil) -> Iterator[Strain]:
    found = ((abs(v), sample) for v, sample in seen.survey.at_work.volts(key, engine=False))
    least = min(found, key=lambda each: each[0], default=None)
    if least is not None:
        yield Strain(
            "coil", key[0], least[0], element.pulls_in_v, "V", "pull-in voltage of the part",
            "as the part's own data", least[1].told, (key,), is_least=True,
        )  # fmt: skip


def _burns(seen: Inspection, key: LoadKey, index: int, element: Resistor | Diode) -> Iterator[Strain]:
    peak = seen.peaks.get(index)
    if peak is None or peak.amps < 1e-3:
        return
    told = peak.sample.told
    if isinstance(element, Diode) and element.amps:
        yield Strain(
            "diode", key[0], peak.amps, element.amps, "A", "rated current of the part",
            "as the part's own data", told, (key,), momentary=peak.momentary,
        )  # fmt: skip
    if isinstance(element, Resistor) and element.watts and not element.does:
        watts = peak.amps**2 * element.ohms
        yield Strain(
            "resistor", key[0], watts, element.watts, "W", "rated dissipation of the part",
            "as the part's own data", told, (key,), momentary=peak.momentary,
        )  # fmt: skip


def _generators(seen: Inspection) -> Iterator[Strain]:
    """Yield what is asked of each generator that says how much it gives."""
    for index, branch in seen.of_kind("source"):
        element = seen.element(index)
        peak = seen.peaks.get(index)
        assert isinstance(element, Source)
        if element.most_amps and peak is not None and peak.amps > 0.01:
            yield Strain(
                "generator", branch.a, peak.amps, element.most_amps, "A", "output of the part",
                "as the part's own data", peak.sample.told, (), momentary=peak.momentary,
            )  # fmt: skip
