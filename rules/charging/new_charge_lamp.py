"""A new charge lamp that nothing in the loom earths goes on the dynamo's own terminal.

What it looks for
A fitted charge lamp's bare terminal, no other of its role in the loom that drives anything, and a dynamo.

Why it matters
On vehicles of this kind no contact earths the lamp. Left bare it stays dark, and nobody sees when the dynamo
fails.

Before
An instrument panel with a voltmeter and a charge lamp in place of one with an ammeter.

After
A wire from it to the dynamo's output, on the dynamo or its regulator: between ignition and armature the lamp
burns while the armature stands, nearly a short to earth, and goes out when both have the same volts. Where
the engine runs with the key off as well, a magneto's or one that lights its fuel by compression, also the
same with a diode: through the lamp the dynamo would feed all that the key has switched off.

Limits
Whether the diode is worth its minutes the proof decides. An alternator's lamp is for other rules: there it
excites the field.

Source
common practice, no source
"""

from collections.abc import Iterator
from dataclasses import replace

from planner.engine.case import Case
from planner.engine.drafting import applied, draft_tap, find_nearest_tap
from planner.engine.generators import stops_with_the_key
from planner.engine.lamp_diodes import draft_diode_out_of
from planner.engine.partners import partners
from planner.model.delta import Add, Reason
from planner.model.elements import Lamp, Led
from planner.model.loom import split_address
from planner.model.need import BareTerminal, Emission, Proposal
from planner.model.reach import conductor
from planner.model.wording import address_words

RULE = "new-charge-lamp"
LAMP, OUTPUT = "61", "D+"


def propose(case: Case) -> Iterator[Emission]:
    """Yield a wire from a new charge lamp to where the dynamo's output is nearest, and one with a diode."""
    need = case.need
    if not isinstance(need, BareTerminal) or case.role(need.at) != LAMP or case.wants(need.at) != "partner":
        return
    if not _is_lamp(case, need.at):
        return
    tap = _nearest_armature(case, need.at)
    if tap is None or any(True for _ in partners(case, need.at, LAMP)):
        return
    lamp, at = address_words(case.loom, need.at), address_words(case.loom, tap)
    facts = (
        f"{lamp} is the charge lamp's, and nothing in this loom earths it",
        f"{at} is the dynamo's, whose armature earths the lamp while it stands",
    )
    operations = draft_tap(case, tap, need.at, tap, LAMP)
    yield Proposal(operations, Reason(RULE, facts))
    if stops_with_the_key(case):
        return
    then = replace(case, loom=applied(case.loom, operations))
    wire = next(o.wire.wire for o in operations if isinstance(o, Add))
    diode = draft_diode_out_of(then, need.at, (wire, 1))
    if diode is not None:
        fact = "with the key off the engine runs on, and the dynamo would feed through the lamp what is off"
        yield Proposal((*operations, diode), Reason(RULE, (*facts, fact)))


def _is_lamp(case: Case, address: str) -> bool:
    """Whether a lamp hangs on a terminal: a regulator's of that role only earths one."""
    place, mark = split_address(address)
    part = case.part(place)
    return part is not None and any(isinstance(e, Lamp | Led) and mark in e.between for e in part.inside)


def _nearest_armature(case: Case, lamp: str) -> str | None:
    """Where the output of a dynamo is nearest; None if there is none."""
    for place in case.loom.places:
        part = case.part(place)
        if part is not None and part.family == "generator":
            for mark, terminal in part.terminals.items():
                if terminal.role == OUTPUT:
                    return find_nearest_tap(case, conductor(case.loom, f"{place}:{mark}"), lamp)
    return None
