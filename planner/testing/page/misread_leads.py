"""Parts whose two leads are told apart by a ring alone: whoever misreads it misreads it with the meter too.

A tip on such a lead then sits on the other one, and all is as it should be there. So no reading with a tip on
a diode's own lead shows that the diode is the wrong way round: something beyond it has to. Common practice,
no source.
"""

from collections.abc import Iterable

from planner.model.catalogue import Catalogue
from planner.model.elements import Diode
from planner.model.loom import Loom, split_address
from planner.testing.mistakes.mistake import Mistake


def misread_leads(loom: Loom, catalogue: Catalogue, mistakes: Iterable[Mistake]) -> dict[str, frozenset[str]]:
    """For each mistake that is a diode the wrong way round the leads on which no tip shows it."""
    found = {}
    for mistake in mistakes:
        place = split_address(mistake.mend[0])[0] if mistake.mend else ""
        if mistake.kind == "wrong way round" and place in loom.places:
            part = catalogue.parts[loom.places[place].part]
            if len(part.terminals) == 2 and any(isinstance(element, Diode) for element in part.inside):
                found[mistake.id] = frozenset(f"{place}:{mark}" for mark in part.terminals)
    return found
