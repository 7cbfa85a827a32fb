"""What a gauge stabiliser that the work put in lets through, read before a gauge is on it.

A gauge takes so little that the lamp in series does not guard it. Common practice, no source.
"""

from collections.abc import Iterator

from planner.messages import tr
from planner.model.elements import Stabiliser
from planner.model.facts import Facts
from planner.model.wording import body_words
from planner.workshop.ends.names import Names
from planner.workshop.power.polarity_first import fuse_in, is_worked_on, volts_words, when_words


def stabiliser_reads(names: Names, facts: Facts) -> Iterator[tuple[str, str]]:
    """Yield how each is read, with the fuse that feeds it, if that is always the same."""
    for place, fitted in names.after.places.items():
        for element in names.catalogue.parts[fitted.part].inside:
            if isinstance(element, Stabiliser) and is_worked_on(names, place):
                yield from _reads(names, facts, place, element)


def _reads(names: Names, facts: Facts, place: str, element: Stabiliser) -> Iterator[tuple[str, str]]:
    live, output = (f"{place}:{mark}" for mark in element.between)
    wires = [names.named(*end) for end in names.after.ends_at.get(output, ())]
    fact = facts.at(live)
    if wires:
        yield (
            fact.fuse or "",
            tr(
                "First, as what is behind the {place} bears no more than {most:g} V, and the lamp in series "
                "does not guard it: take {wires} off {at} and insulate that, {fuse}, and read {volts}{when}, "
                "for a minute. Steady {most:g} V (electronic), or volts that come and go (bimetal): good. "
                "The battery's volts that stay, or nothing: it is the wrong way round, its case has no "
                "earth, its feed is open, or it is broken; the wire stays off until that is put right. Else "
                "fuse out, the wire on again (common practice, no source)",
                place=names.after.place_title(place),
                most=element.volts,
                wires=tr(" and ").join(wires),
                at=names.at(output),
                fuse=fuse_in(fact),
                volts=volts_words(names, names.at(output), body_words(names.after)),
                when=when_words(fact),
            ),
        )
