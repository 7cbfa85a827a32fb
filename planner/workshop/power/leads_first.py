"""Which lead of a part is the earthed one, read with the battery off where crossed leads would harm it.

Such leads are crimped into joiners, so none comes off to be read alone: ohms to earth tell them apart, and
nothing is live meanwhile.
"""

from collections.abc import Collection, Iterator

from planner.messages import tr
from planner.model.elements import Source
from planner.model.facts import Facts
from planner.model.polarity import reversing_leads
from planner.model.wording import body_words
from planner.workshop.ends.names import Names
from planner.workshop.power.polarity_first import is_worked_on


def leads_reads(names: Names, facts: Facts, left_off: Collection[str]) -> tuple[str, ...]:
    """What is read before the battery goes on, of each part that the work may have turned round.

    ``facts`` are those of the loom after; ``left_off`` are places whose feed stays off anyway.
    """
    return tuple(_reads(names, facts, left_off))


def _reads(names: Names, facts: Facts, left_off: Collection[str]) -> Iterator[str]:
    turned = names.before.supply.earthed != names.after.supply.earthed
    for place, fitted in names.after.places.items():
        part = names.catalogue.parts[fitted.part]
        leads = reversing_leads(part) if part.must_not_be_crossed else None
        is_source = any(isinstance(element, Source) for element in part.inside)
        if leads is None or is_source or place in left_off or not (turned or is_worked_on(names, place)):
            continue
        back, live = leads if names.after.supply.earthed == "positive" else leads[::-1]
        if facts.at(f"{place}:{back}").earthed == "always":
            yield _read(names, place, back, live)


def _read(names: Names, place: str, back: str, live: str) -> str:
    return tr(
        "Battery still off, before any fuse goes in, as the {place} is harmed where its leads are crossed: "
        "ohms, one tip on {back}, the other on {earth}: 1 ohm or less, the leads of the meter taken off; "
        "then one tip on {live}, the other as before: clearly more, or open. The other way about its two "
        "leads are crossed; both open, its return is: put that right first (common practice, no source)",
        place=names.after.place_title(place),
        back=_tipped(names, f"{place}:{back}"),
        live=_tipped(names, f"{place}:{live}"),
        earth=body_words(names.after),
    )


def _tipped(names: Names, address: str) -> str:
    """Where the tip goes: a lead that the work joins has its bare metal in the joiner alone."""
    at = names.at(address)
    return tr("{lead} (in its joiner)", lead=at) if names.is_own_lead(address) else at
