"""A load on a poor earth gets an earth wire of its own.

What it looks for
A load that loses more on its way to earth than a sound one does: a mounting or a zone that was measured to
have resistance, or more current than an earth wire bears without loss.

Why it matters
Rust under a wing bolt or a rubber mounting takes volts from the lamp, and what the earth does not carry looks
for another way: through the other filament, the neighbour, the choke cable.

Before
Fog lamps on a nose whose bolts to the body have 0.3 ohm.

After
The cheapest that cures it: a wire with a ring from the load to the body beside it, a wire from the load to
the battery's earthed pole, a strap from the body there to that pole, which serves all that is earthed in that
zone, or the earth wire that the plan adds anyway in a thicker size.

Limits
Sized to lose half of what an earth may. Cleaning the old joint may do as much: measure again after that.
Without a battery in the loom only the wire to the body is proposed.

Source
0.1 V for the ground side of a loaded circuit: trade test guideline; the practice is common, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_wire
from planner.engine.earthing import earth_runs
from planner.engine.making import BODY_RING, choose_fitting
from planner.engine.relieving import battery_poles
from planner.engine.sizing import draft_thicker, load_amps, mm2_for_drop, strain_of, thicker_for_drop
from planner.model.delta import Make, Operation, Reason, with_end
from planner.model.need import Emission, Proposal
from planner.model.strain import Strain
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield an earth wire to the body, to the battery's earthed pole, and a strap between these two."""
    strain = strain_of(case, "earth")
    if strain is None or not strain.path:
        return
    start = strain.path[0]
    zone = case.zone(start) or case.loom.places[strain.at].zone
    body = f"earth:{zone}"
    poles = [earthed for _, earthed in battery_poles(case)][:1]
    if start != body and body in strain.path:
        yield from _earthed(case, strain, start, body)
    for pole in poles:
        if start != pole:
            yield from _earthed(case, strain, start, pole)
        if body in strain.path:
            yield from _earthed(case, strain, body, pole)
    thicker = thicker_for_drop(case, strain)
    if thicker is not None and thicker[0] not in case.before.wire_index:
        wire, leg, mm2 = thicker
        facts = (
            f"the {case.loom.place_title(strain.at)} loses {strain.value:.2f} V on its way to earth; "
            f"{strain.limit:g} V is usual",
            f"with {mm2:g} mm2 its new earth wire loses as much less as it takes",
        )
        why = Reason("poor-earth", facts, strain.source)
        yield Proposal((draft_thicker(case, wire, leg, mm2),), why)


def _earthed(case: Case, strain: Strain, from_: str, to: str) -> Iterator[Proposal]:
    """Yield a wire between two addresses that loses half of what an earth may, if there is such a size."""
    amps = sum(load_amps(case, *load) for load in strain.loads)
    metres, _ = case.wire_length(from_, to)
    mm2 = mm2_for_drop(case, amps, metres, strain.limit / 2)
    if mm2 is None or earth_runs(case, from_, to):
        return
    title = case.loom.place_title(strain.at)
    facts = (
        f"the {title} loses {strain.value:.2f} V on its way to earth; {strain.limit:g} V is usual",
        f"{metres:g} m of {mm2:g} mm2 from {address_words(case.loom, from_)} to "
        f"{address_words(case.loom, to)} lose {strain.limit / 2:g} V at most with {amps:.1f} A",
    )
    why = Reason("poor-earth", facts, strain.source)
    yield Proposal(_rerouted(case, from_, to, mm2) or (draft_wire(case, from_, to, "31", mm2=mm2),), why)


def _rerouted(case: Case, from_: str, to: str, mm2: float) -> tuple[Operation, ...]:
    """An earth wire that the plan adds there, run to the better earth instead if that is as near; else ()."""
    for wire, end in case.wires_at(from_):
        other = 1 - end
        if wire.wire in case.before.wire_index or not wire.ends[other].at.startswith("earth"):
            continue
        if case.wire_length(from_, to) != case.wire_length(from_, wire.ends[other].at):
            continue
        made = wire.model_copy(update={"mm2": (max(mm2, wire.mm2[0]),)})
        made = with_end(made, other, fitting=choose_fitting(case, to, BODY_RING))
        return (Make(made, wire), case.put(wire.wire, other, to))
    return ()
