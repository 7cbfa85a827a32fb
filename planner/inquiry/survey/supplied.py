"""A pattern for a vehicle of another supply: its batteries exchanged, the rest as it was."""

from planner.engine.resupplying import minds_volts
from planner.model.catalogue import Catalogue
from planner.model.delta import copy_loom
from planner.model.elements import Source
from planner.model.job import Job
from planner.model.loom import Loom, Supply
from planner.model.part import Part
from planner.model.polarity import suits_pole
from planner.problems import UsageError


def with_supply(job: Job, loom: Loom, supply: Supply, catalogue: Catalogue) -> Loom:
    """The loom of a job as it would be at another supply: each battery one that gives it.

    Raises
    ------
    UsageError
        If the job is to bring just this supply about, or if no battery of the catalogue gives it.
    """
    if supply == loom.supply:
        return loom
    if job.supply == supply:
        raise UsageError(f"your vehicle has {supply.words} already, which is what this swap makes of it")
    places, wires = dict(loom.places), list(loom.wires)
    for place, fitted in loom.places.items():
        old = catalogue.parts[fitted.part]
        if _battery(old) is None:
            continue
        new = _like(old, supply, catalogue)
        places[place] = fitted.model_copy(update={"part": new.part})
        marks = {
            f"{place}:{mark}": f"{place}:{_of_role(new, t.role, mark)}" for mark, t in old.terminals.items()
        }
        for number, wire in enumerate(wires):
            ends = tuple(end.model_copy(update={"at": marks.get(end.at, end.at)}) for end in wire.ends)
            wires[number] = wire.model_copy(update={"ends": ends})
    return copy_loom(loom, supply=supply, places=places, wires=tuple(wires))


def other_supply(loom: Loom, catalogue: Catalogue) -> tuple[str, ...]:
    """The titles of the places whose parts are made for other volts than the loom's or the other pole."""
    return tuple(
        loom.place_title(place).partition(",")[0]
        for place, fitted in loom.places.items()
        if not _suits(catalogue.parts[fitted.part], loom.supply)
    )


def _suits(part: Part, supply: Supply) -> bool:
    return (part.volts == supply.volts or not minds_volts(part)) and suits_pole(part, supply)


def _battery(part: Part) -> Source | None:
    """What gives current without an engine that turns it."""
    return next((e for e in part.inside if isinstance(e, Source) and not e.when), None)


def _like(old: Part, supply: Supply, catalogue: Catalogue) -> Part:
    live = "+" if supply.earthed == "negative" else "-"
    hours = _hours(old)
    found = [
        part
        for part in catalogue.family(old.family)
        if (source := _battery(part)) and source.volts == supply.volts and source.between[0] == live
    ]
    if not found:
        raise UsageError(f"the catalogue has no battery of {supply.words}; describe one with --catalog DIR")
    return min(found, key=lambda part: (abs(_hours(part) - hours), part.part))


def _hours(part: Part) -> float:
    source = _battery(part)
    return (source.amp_hours if source else None) or 0.0


def _of_role(part: Part, role: str | None, mark: str) -> str:
    """The terminal of a role, the same mark if there is none."""
    return next((name for name, t in part.terminals.items() if t.role == role), mark)
