"""What takes current with everything at rest, seen from a case: by which terminals, and how much."""

from collections.abc import Iterator, Mapping

from planner.engine.case import Case
from planner.model.drains import drain_words
from planner.model.elements import EndUser, Source
from planner.model.reach import joined_inside


def taken_at_rest(case: Case, place: str, at: str) -> str:
    """What a part takes at rest, and how soon the battery is half empty with that."""
    part, volts = case.part(place), case.loom.supply.volts
    joined = joined_inside(part, at.partition(":")[2]) if part else ()
    amps = 0.0
    for element in part.inside if part else ():
        if isinstance(element, EndUser) and set(joined) & set(element.between):
            watts, ohms = getattr(element, "watts", None), getattr(element, "ohms", None)
            amps += volts / ohms if ohms else (watts or 0.0) / volts
    fitted = (case.catalogue.parts[there.part] for there in case.loom.places.values())
    hours = [e.amp_hours for p in fitted for e in p.inside if isinstance(e, Source) and e.amp_hours]
    taken, _, flat = drain_words(amps, hours[0] if hours else None).partition(": ")
    return f"{taken} at rest ({flat})" if flat else f"{taken} at rest"


def fed_at_rest(case: Case, place: str) -> Iterator[str]:
    """Yield the wired terminals on which a part takes current with its controls at rest."""
    part = case.part(place)
    if part is None:
        return
    rest: Mapping[str, str] = {name: labels[0] for name, labels in part.variables.items()}
    for mark, terminal in part.terminals.items():
        if terminal.by == "wire" and case.rank_in(part, mark) < 50:
            joined = joined_inside(part, mark, rest)
            if any(isinstance(e, EndUser) and joined & set(e.between) for e in part.inside):
                yield f"{place}:{mark}"
