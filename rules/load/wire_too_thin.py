"""A wire that carries more than it stands is laid thicker.

What it looks for
A wire whose current is over what its size carries for good where it runs, because of a heavier load; or a
push-on terminal that passes more than it is tested with on a wire of that size.

Why it matters
A wire that is too thin warms its whole length, in the loom among others. A push-on terminal is cooled by its
wire: on a thicker one the same blade bears more.

Before
A fan of 20 A on the 1.5 mm2 wire of the small one it takes the place of.

After
The same way, colour and ends in 4 mm2; the old wire is drawn out or tied back. A wire that the plan adds is
made in that size at once.

Limits
One leg at a time, as strained. Switches, fuses and terminals on the way carry the current as before: a relay
near the load spares them. What is published for tabs ends at 24 A. The wire stays in its bundle, if the loom
says that it lies in one: laid apart from it, a thinner one would do.

Source
automotive-handbook cable table after DIN VDE 0298-4, its factors for bundles from memory, and UL 310 for
tabs; the practice is common, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.sizing import draft_thicker, far_over_on_tab, least_mm2, mm2_for_tabs, strain_of
from planner.model.delta import Reason
from planner.model.need import Emission, Proposal
from planner.model.strain import Strain
from planner.model.surroundings import carries_for_good, leg_surroundings
from planner.model.wording import address_words, wire_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a thicker wire for a strained leg, or for the thickest wire on a strained tab."""
    if (strain := strain_of(case, "wire")) is not None and strain.leg is not None:
        yield from _thicker(case, strain, strain.at, strain.leg)
    elif (strain := far_over_on_tab(case)) is not None:
        wires = case.wires_at(strain.at)
        if wires:
            wire, end = max(wires, key=lambda each: (each[0].end_mm2(each[1]), each[0].wire))
            yield from _thicker(case, strain, wire.wire, max(0, end - 1))


def _thicker(case: Case, strain: Strain, wire: str, leg: int) -> Iterator[Proposal]:
    """Yield one leg in a size that stands the strained current, its tabs too where any size does."""
    record = case.loom.find(wire)
    ends = (record.ends[leg].at, record.ends[leg + 1].at)
    old, around = record.leg_mm2(leg), leg_surroundings(case.loom, record, leg, strain.loaded)
    stands = carries_for_good(case.catalogue.standards, old, around)
    amps = strain.use * stands.value if strain.kind == "wire" else strain.value  # a moment's amps weigh less
    wanted = least_mm2(case, amps, around)
    tabs = mm2_for_tabs(case, amps, ends if strain.kind == "wire" else (strain.at,))
    if wanted is None or (strain.kind == "tab" and tabs is None):
        return
    mm2 = max(wanted, tabs or 0.0)
    if mm2 > old:
        lies = f" as one of {strain.loaded} loaded wires in a bundle" if strain.loaded > 1 else ""
        facts = (
            f"{wire_words(record, leg)} ({wire}) from {address_words(case.loom, ends[0])} to "
            f"{address_words(case.loom, ends[1])} is {old:g} mm2, which carries {stands.value:.3g} A "
            f"for good{lies}",
            f"{strain.value:.1f} A flow at {address_words(case.loom, strain.at)}"
            if strain.kind == "tab"
            else f"{strain.value:.1f} A flow in it",
        )
        why = Reason("wire-too-thin", facts, strain.source)
        yield Proposal((draft_thicker(case, wire, leg, mm2),), why)
