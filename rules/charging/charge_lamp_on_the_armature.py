"""A dynamo's charge lamp whose contact is gone goes on the dynamo's own terminal.

What it looks for
The charge lamp's wire, loose from a terminal that earthed it, and a regulator without such a terminal but
with one for the dynamo's output.

Why it matters
Tied back, the lamp stays dark, and nobody sees when the dynamo fails.

Before
The lamp's wire on the contact of a regulator that earths it while the dynamo gives nothing.

After
It goes on D: between ignition and armature the lamp burns while the armature stands, nearly a short to earth,
and goes out when both have the same volts.

Limits
Where D has no room left a joiner or an equal terminal is for the rule about full terminals. An alternator's
lamp is for other rules: there it excites the field.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.model.delta import Reason
from planner.model.loom import split_address
from planner.model.need import Emission, LooseEnd, Proposal
from planner.model.wording import address_words

LAMP, OUTPUT = "61", "D+"


def propose(case: Case) -> Iterator[Emission]:
    """Yield the lamp's end on the dynamo's terminal of the new regulator."""
    need = case.need
    place = split_address(need.was)[0] if isinstance(need, LooseEnd) else ""
    old, part = case.old_part(place), case.part(place)
    if not isinstance(need, LooseEnd) or case.old_role(need.was) != LAMP or old is None or part is None:
        return
    roles = {mark: t.role for mark, t in part.terminals.items()}
    if part.family != old.family or part.family != "regulator" or LAMP in roles.values():
        return
    for mark in [mark for mark, role in roles.items() if role == OUTPUT][:1]:
        end, at = case.old_end(need.wire, need.end), address_words(case.loom, f"{place}:{mark}")
        facts = (
            f"{end} is the charge lamp's, and no terminal of the new part earths it",
            f"{at} is the dynamo's, whose armature earths the lamp while it stands",
        )
        why = Reason("charge-lamp-on-the-armature", facts, leans_on=((need.wire, need.end),))
        yield Proposal((case.put(need.wire, need.end, f"{place}:{mark}"),), why)
