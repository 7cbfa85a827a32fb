"""The supply: parts made for other volts, and parts that have a direction or mind which pole is earthed."""

from collections.abc import Iterator, Sequence

from planner.circuit.fitted import LoadKey
from planner.currents.checks.inspection import Inspection
from planner.currents.sample import Sample
from planner.messages import tr
from planner.model.elements import AnyElement, Coil, Gauge, Lamp, Led, Resistor, Winding
from planner.model.part import Part
from planner.model.polarity import polarity_of, suits_pole
from planner.model.strain import Strain, StrainKind

# A lamp at a tenth over its volts lives about a quarter as long: 1.1^-13 (exponent -12 to -16, Standard
# Handbook for Electrical Engineers, 11th ed., as cited by an encyclopedia). Half as much again in volts is
# another system's lamp: that is what counts as too much.
OVER_VOLTS = 1.25
OVER_SOURCE = (
    "life of a lamp goes with the volts to the power of -13: at 1.25 times about a twentieth is left"
)
OVER_BASIS = "computed from a confirmed range of exponents (-12 to -16)"
HEAT_SOURCE = "heat goes with the square of the volts: at 1.25 times a winding burns half as much again"
HEAT_BASIS = "computed; what a winding stands is common practice, no source"
# Three quarters of the volts leave a lamp a third of its light (0.75^3.4, the same handbook) and a motor
# about three quarters of its speed; losses on the way are held against limits of their own.
UNDER_VOLTS = 0.75
UNDER_SOURCE = "light of a lamp goes with the volts to the power of 3.4: at 0.75 times a third is left"
SLOW_SOURCE = "speed of a motor goes about with the volts: at 0.75 times three quarters are left"
PART = "as the part's own data"
DIGITS = 9  # of volts: what differs less is the same, and the first position that has it is told


def strains(seen: Inspection) -> Iterator[Strain]:
    """Yield what gets the volts of another system, runs backwards, or is made for the other pole earthed."""
    for key, index in seen.survey.grid.loads.items():
        if key in seen.survey.positions.view.net.loads:
            element = seen.element(index)
            yield from _over(seen, key, element)
            yield from _under(seen, key, element)
            yield from _reversed(seen, key, index, element)
    yield from _other_pole(seen)


def _duty(seen: Inspection, key: LoadKey) -> str:
    return seen.survey.positions.view.net.loads[key].duty


def _over(seen: Inspection, key: LoadKey, element: AnyElement) -> Iterator[Strain]:
    is_apparatus = isinstance(element, Coil) or (isinstance(element, Resistor) and element.does)
    if not is_apparatus and not isinstance(element, Lamp | Led | Winding):
        return
    most = _most(seen.survey.at_work.volts(key, engine=True))
    if most is not None:
        lights = isinstance(element, Lamp | Led)
        # A lamp burns out and a horn is sounded for a moment; what is on for good heats until it burns.
        kind: StrainKind = "over-voltage" if lights or most[1].held else "overheats"
        yield Strain(
            kind, key[0], most[0], OVER_VOLTS * seen.rated_volts(key, element), "V",
            OVER_SOURCE if lights else HEAT_SOURCE, OVER_BASIS if lights else HEAT_BASIS,
            most[1].told, (key,), duty=_duty(seen, key), note=_called(key, element),
            momentary=most[1].held > 0,
        )  # fmt: skip


def _most(found: Sequence[tuple[float, Sample]]) -> tuple[float, Sample] | None:
    """The first of some volts that are, without sign and but for what does not count, the most."""
    sizes = [abs(volts) for volts, _ in found]
    most = max(sizes, default=0.0)
    top, least = round(most, DIGITS), most - 10.0**-DIGITS
    same = (n for n, size in enumerate(sizes) if size >= least and round(size, DIGITS) == top)
    number = next(same, None)
    return None if number is None else (sizes[number], found[number][1])


def _under(seen: Inspection, key: LoadKey, element: AnyElement) -> Iterator[Strain]:
    """A load made for more volts than the vehicle has; what its circuit loses is another check."""
    rated = seen.rated_volts(key, element)
    if not isinstance(element, Lamp | Led | Winding) or UNDER_VOLTS * rated <= seen.loom.supply.volts:
        return
    found = ((abs(v), sample) for v, sample in seen.survey.at_work.volts(key, engine=False))
    least = min(found, key=lambda each: each[0], default=None)
    if least is not None:
        yield Strain(
            "under-voltage", key[0], least[0], UNDER_VOLTS * rated, "V",
            SLOW_SOURCE if isinstance(element, Winding) else UNDER_SOURCE,
            HEAT_BASIS if isinstance(element, Winding) else OVER_BASIS,
            least[1].told, (key,), duty=_duty(seen, key), is_least=True, note=_called(key, element),
        )  # fmt: skip


def _reversed(seen: Inspection, key: LoadKey, index: int, element: AnyElement) -> Iterator[Strain]:
    """What has a direction, a motor, a coil or an ammeter; looked at while no generator is at work."""
    if not isinstance(element, Winding | Gauge) or polarity_of(seen.part_of(key[0])) != "reverses":
        return
    found = seen.survey.at_work.volts(key, engine=False)
    volts, sample = max(found, key=lambda each: abs(each[0]), default=(0.0, None))
    if sample is not None and volts < 0.0:
        yield Strain(
            "reversed", key[0], -volts, 0.0, "V", "direction of the part", PART, sample.told, (key,),
            path=seen.path(index, sample), duty=_duty(seen, key), note=key[1],
        )  # fmt: skip


def _other_pole(seen: Inspection) -> Iterator[Strain]:
    for place in seen.loom.places:
        part = seen.part_of(place)
        if not suits_pole(part, seen.loom.supply):
            yield Strain(
                "polarity", place, seen.loom.supply.volts, 0.0, "V", "polarity of the part", PART, {},
                note=_made_for(part),
            )  # fmt: skip


def _called(key: LoadKey, element: AnyElement) -> str:
    return tr("coil of {ohms:g} ohm", ohms=element.ohms) if isinstance(element, Coil) else key[1]


def _made_for(part: Part) -> str:
    """Which pole a part that minds it wants earthed."""
    return (
        tr("made for positive earth") if part.polarity == "positive-earth" else tr("made for negative earth")
    )
