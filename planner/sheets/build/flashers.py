"""Which flasher unit stays where turn lamps are exchanged: what is fitted there may be of another kind."""

from collections.abc import Iterator

from planner.messages import tr
from planner.model.bench_sheet import BenchSheet
from planner.model.elements import Flasher, Lamp, Led
from planner.model.part import Part
from planner.model.wording import small


def flashers_staying(bench: BenchSheet) -> Iterator[str]:
    """Yield what the proof takes for granted of each flasher unit that the work leaves where it is."""
    before, after = bench.before.places, bench.after.places
    new = {at for at, place in after.items() if at not in before or before[at].part != place.part}
    if not any(_signals(bench.parts[after[at].part]) for at in new):
        return
    for at in after.keys() - new:
        part = bench.parts[after[at].part]
        for element in (element for element in part.inside if isinstance(element, Flasher)):
            yield tr(
                "The {place} stays: {part}, which beats with {amps:g} A and more. See that this is what is "
                "fitted there: another, such as a thermal one for filament lamps, may not beat with the new "
                "lamps.",
                place=bench.after.place_title(at),
                part=small(part.title),
                amps=element.needs_amps,
            )


def _signals(part: Part) -> bool:
    """Whether a part has a turn lamp."""
    return any(isinstance(element, Lamp | Led) and element.duty == "signal" for element in part.inside)
