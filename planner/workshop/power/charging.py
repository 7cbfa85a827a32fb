"""What is done and read with the engine once a work touched what charges the battery."""

from planner.model.bench_sheet import Charging, Polarised
from planner.model.catalogue import Catalogue
from planner.model.charging_volts import charging_volts
from planner.model.elements import AnyElement, Gauge, Source
from planner.model.loom import Loom, Place
from planner.model.polarising import polarising_words
from planner.model.polarity import polarity_of
from planner.workshop.ends.names import Names

_REGULATORS = "regulator"  # their family


def charging(names: Names) -> Charging | None:
    """What is looked at; None where the work has nothing to do with it, or nothing charges in this loom."""
    before, after, catalogue = names.before, names.after, names.catalogue
    generators = [place for place in after.places if _has_generator(after, place, catalogue)]
    is_turned = before.supply != after.supply
    worked_on = any(_is_of_charging(names, place) for place in names.work.swapped)
    if not generators or not (is_turned or worked_on):
        return None
    volts = charging_volts(after.supply.volts)
    return Charging(
        generators=tuple(after.place_title(place) for place in generators),
        polarised=tuple(
            Polarised(after.place_title(place), polarising_words(catalogue.parts[after.places[place].part]))
            for place in generators
            if _is_polarised(names, place)
        ),
        polarised_back=tuple(
            Polarised(before.place_title(place), polarising_words(catalogue.parts[before.places[place].part]))
            for place in before.places
            if _goes_back(names, place)
        ),
        low_volts=volts.low,
        high_volts=volts.high,
        ammeters=tuple(
            after.place_title(name)
            for name, place in after.places.items()
            if any(isinstance(e, Gauge) and e.is_in_series for e in _inside(place, catalogue))
        ),
    )


def _is_polarised(names: Names, place: str) -> bool:
    """Whether a dynamo has to be told which way it charges: it is new here, or the other pole is earthed."""
    is_turned = names.before.supply.earthed != names.after.supply.earthed
    part = names.catalogue.parts[names.after.places[place].part]
    return polarity_of(part) == "repolarise" and (is_turned or place in names.work.swapped)


def _goes_back(names: Names, place: str) -> bool:
    """Whether a dynamo is told so on the way back: it comes in again, or the other pole is earthed again."""
    part, now = names.before.places[place].part, names.after.places.get(place)
    is_turned = names.before.supply.earthed != names.after.supply.earthed
    is_dynamo = polarity_of(names.catalogue.parts[part]) == "repolarise"
    return is_dynamo and (is_turned or now is None or now.part != part)


def _is_of_charging(names: Names, place: str) -> bool:
    """Whether a place has, or had, a generator, a regulator or a battery."""
    for loom in (names.before, names.after):
        if place in loom.places:
            part = names.catalogue.parts[loom.places[place].part]
            if part.family == _REGULATORS or any(isinstance(e, Source) for e in part.inside):
                return True
    return False


def _has_generator(loom: Loom, place: str, catalogue: Catalogue) -> bool:
    return any(isinstance(e, Source) and e.when for e in _inside(loom.places[place], catalogue))


def _inside(place: Place, catalogue: Catalogue) -> tuple[AnyElement, ...]:
    return catalogue.parts[place.part].inside
