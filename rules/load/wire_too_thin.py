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
made in that size at once. Where it shares a push-on terminal with the next leg and none is made for both,
they go into a joiner, and a tail from there goes on.

Limits
One leg at a time, as strained. Switches, fuses and terminals on the way carry the current as before: a relay
near the load spares them. What is published for tabs ends at 24 A, and they are made for 6 mm2 at most: where
more is asked for it is said, for a thinner tail before the terminal would be as strained. The wire stays in
its bundle, if the loom says that it lies in one: laid apart from it, a thinner one would do.

Source
automotive-handbook cable table after DIN VDE 0298-4, its factors for bundles from memory; for tabs UL 310
and the scope of IEC 61210; the practice is common, no source
"""

from collections.abc import Iterator
from dataclasses import replace

from planner.engine.case import Case
from planner.engine.drafting import applied, draft_tail
from planner.engine.sizing import (
    draft_thicker,
    far_over_on_tab,
    least_mm2,
    mm2_for_tabs,
    most_mm2,
    no_crimp_for_both,
    no_crimp_words,
    strain_of,
)
from planner.messages import tr
from planner.model.delta import Operation, Reason
from planner.model.loom import Wire
from planner.model.need import Emission, Proposal, Remark
from planner.model.published import Published
from planner.model.strain import Strain
from planner.model.surroundings import carries_for_good, leg_surroundings
from planner.model.wording import address_words, wire_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a thicker wire for a strained leg or the thickest on a strained tab, or say that none goes on."""
    if (strain := strain_of(case, "wire")) is not None and strain.leg is not None:
        yield from _thicker(case, strain, strain.at, strain.leg)
    elif (strain := far_over_on_tab(case)) is not None:
        wires = case.wires_at(strain.at)
        if wires:
            wire, end = max(wires, key=lambda each: (each[0].end_mm2(each[1]), each[0].wire))
            yield from _thicker(case, strain, wire.wire, max(0, end - 1))


def _thicker(case: Case, strain: Strain, wire: str, leg: int) -> Iterator[Emission]:
    """Yield one leg in a size that stands the strained current, its tabs too where any size does.

    Of a size that does not go on its terminals only the remark.
    """
    record = case.loom.find(wire)
    ends = (record.ends[leg].at, record.ends[leg + 1].at)
    old, around = record.leg_mm2(leg), leg_surroundings(case.loom, record, leg, strain.loaded)
    stands = carries_for_good(case.catalogue.standards, old, around)
    amps = strain.use * stands.value if strain.kind == "wire" else strain.value  # a moment's amps weigh less
    wanted = least_mm2(case, amps, around)
    tabs = mm2_for_tabs(case, amps, ends if strain.kind == "wire" else (strain.at,))
    if wanted is None or (strain.kind == "tab" and tabs is None):
        return
    mm2, most = max(wanted, tabs or 0.0), most_mm2(case, ends)
    if most is not None and mm2 > most.value and mm2 > old:
        yield _too_thick(case, record, leg, mm2, most)
    elif mm2 > old:
        lies = f" as one of {strain.loaded} loaded wires in a bundle" if strain.loaded > 1 else ""
        facts: tuple[str, ...] = (
            f"{wire_words(record, leg)} ({wire}) from {address_words(case.loom, ends[0])} to "
            f"{address_words(case.loom, ends[1])} is {old:g} mm2, which carries {stands.value:.3g} A "
            f"for good{lies}",
            f"{strain.value:.1f} A flow at {address_words(case.loom, strain.at)}"
            if strain.kind == "tab"
            else f"{strain.value:.1f} A flow in it",
        )
        thick = replace(case, loom=draft_thicker(case, wire, leg, mm2).apply(case.loom))
        tails: list[Operation] = []
        for end, at in enumerate(ends, leg):  # a leg may share its terminal with the next one
            areas = thick.loom.find(wire).areas_at(end)
            if (both := no_crimp_for_both(case, at, areas)) is not None:
                facts += (no_crimp_words(both, areas),)
                tails += draft_tail(thick, wire, end, at, both.value)
        joined = replace(case, loom=applied(case.loom, tails))
        why = Reason("wire-too-thin", facts, strain.source)
        yield Proposal((*tails, draft_thicker(joined, wire, leg, mm2)), why)


def _too_thick(case: Case, record: Wire, leg: int, mm2: float, most: Published) -> Remark:
    """That a wire would have to be thicker than its push-on terminals take."""
    ends = (record.ends[leg].at, record.ends[leg + 1].at)
    tab = next(
        at for at in ends if (least := most_mm2(case, (at,))) is not None and least.value == most.value
    )
    text = tr(
        "{wire}: its current asks for {mm2:g} mm2, and the push-on terminal on {tab} takes {most:g} mm2 at "
        "most. Take a load off this way, by a relay fed from the battery or by a feed of its own",
        wire=wire_words(record, leg),
        mm2=mm2,
        tab=address_words(case.loom, tab),
        most=most.value,
    )
    return Remark(
        text, Reason("wire-too-thin", (f"{most.value:g} mm2: {most.source}, {most.basis}",), most.source)
    )
