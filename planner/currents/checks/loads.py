"""Loads: what is left of the volts where they work, and what is too much."""

from collections.abc import Iterator

from planner.circuit.fitted import LoadKey
from planner.currents.checks.inspection import Inspection
from planner.currents.survey import Sample
from planner.model.drops import Circuit
from planner.model.elements import Coil, Diode, Lamp, Led, Resistor, Source, Winding
from planner.model.strain import Strain

# A lamp at a tenth over its volts lives about a quarter as long: 1.1^-13 (exponent -12 to -16, Standard
# Handbook for Electrical Engineers, 11th ed., as cited by an encyclopedia). Half as much again in volts is
# another system's lamp: that is what counts as too much.
OVER_VOLTS = 1.25
OVER_SOURCE = (
    "life of a lamp goes with the volts to the power of -13: at 1.25 times about a twentieth is left"
)
OVER_BASIS = "computed from a confirmed range of exponents (-12 to -16)"
STARTER_WATTS = 500.0  # a winding from here on is a starter's; its own drop limit is another


def strains(seen: Inspection) -> Iterator[Strain]:
    """Yield drop, too much, coils that do not pull in, and what burns more than it is made for."""
    for key, index in seen.survey.grid.loads.items():
        info = seen.survey.positions.view.net.loads.get(key)
        if info is None:
            continue
        element = seen.element(index)
        if isinstance(element, Resistor | Diode):
            yield from _burns(seen, key, index, element)
        elif isinstance(element, Coil):
            yield from _pulls_in(seen, key, index, element)
        elif info.is_task:
            yield from _drop(seen, key, index)
            yield from _over(seen, key, index, element)
    yield from _generators(seen)


def _at_work(seen: Inspection, key: LoadKey, index: int, *, engine: bool) -> Iterator[tuple[float, Sample]]:
    """Yield volts across a load in every sample in which it is meant to work fully.

    Not while others are held for a moment, unless it only works then. ``engine``: with a generator at work.
    """
    positions = seen.survey.positions
    found = [
        sample
        for sample in seen.survey.samples
        if positions.is_full(key, positions.row_of(key, sample.assignment))
        and (engine or not seen.is_generating(sample))
    ]
    for sample in seen.lasting(found):
        yield abs(sample.across(index)), sample


def _drop(seen: Inspection, key: LoadKey, index: int) -> Iterator[Strain]:
    """The volts that a load's own circuit loses, as the limits mean it: nothing else is switched on."""
    samples = seen.lasting(seen.survey.alone.get(key, ()))
    if not samples:
        return
    drop, sample = max(((lost_volts(seen, index, s), s) for s in samples), key=lambda each: each[0])
    volts = abs(sample.across(index))
    limit = seen.standards.drop_limit(_circuit(seen, key, index), seen.loom.supply.volts)
    info = seen.survey.positions.view.net.loads[key]
    yield Strain(
        "drop", key[0], drop, limit.value, "V", limit.source, limit.basis, seen.told(sample), (key,),
        path=sample.flow.path(index), duty=info.duty,
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


def _over(seen: Inspection, key: LoadKey, index: int, element: object) -> Iterator[Strain]:
    rated = getattr(element, "volts", None) or seen.part_of(key[0]).volts
    most = max(_at_work(seen, key, index, engine=True), key=lambda found: found[0], default=None)
    if most is not None and isinstance(element, Lamp | Led | Winding):
        yield Strain(
            "over-voltage", key[0], most[0], OVER_VOLTS * rated, "V", OVER_SOURCE, OVER_BASIS,
            seen.told(most[1]), (key,), duty=seen.survey.positions.view.net.loads[key].duty, note=key[1],
        )  # fmt: skip


def _pulls_in(seen: Inspection, key: LoadKey, index: int, element: Coil) -> Iterator[Strain]:
    least = min(_at_work(seen, key, index, engine=False), key=lambda found: found[0], default=None)
    if least is not None:
        yield Strain(
            "coil", key[0], least[0], element.pulls_in_v, "V", "pull-in voltage of the part",
            "as the part's own data", seen.told(least[1]), (key,), is_least=True,
        )  # fmt: skip


def _burns(seen: Inspection, key: LoadKey, index: int, element: Resistor | Diode) -> Iterator[Strain]:
    peak = seen.peaks.get(index)
    if peak is None or peak.amps < 1e-3:
        return
    told = seen.told(peak.sample)
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
                "as the part's own data", seen.told(peak.sample), (), momentary=peak.momentary,
            )  # fmt: skip
