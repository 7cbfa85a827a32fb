"""A wire that the plan adds is made up new: size, colour, length and a fitting for each end.

What it looks for
A new wire of which only the two ends are settled.

Why it matters
A work list that says "run a wire" leaves the restorer to guess. Too thin it burns, in the neighbour's colour
it misleads the next person, too short it is made twice.

Before
A wire from 53b of the wiper switch to 53b of the motor, nothing said of it.

After
Black/yellow, 1.5 mm2, 1.9 m, blade 6.3 at both ends, because black/green is taken at the switch.

Limits
The size is that of the wire it lengthens, as far as its terminals take it; of a tail by which a switch feeds
several unfused wires that of all of them together, but no more than what feeds the switch. Else it is what
its current asks if the rule that wanted the wire said so, else the usual one of its role, else that of the
wires beside it; currents are checked elsewhere. Where the loom draws no route between the two zones the
length is nominal and must be measured. Colours clash only where a wire of that colour is at a place of either
end; another tracer is chosen among those that the loom's scheme gives to no other role.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.making import (
    BODY_RING,
    TAIL_METRES,
    choose_fitting,
    free_colour,
    is_tail,
    lengthened_by,
    mm2_for_all,
)
from planner.engine.sizing import most_mm2
from planner.model.delta import Make, Reason
from planner.model.loom import Wire
from planner.model.need import Emission, Proposal, WireToMake
from planner.model.wording import address_words, colour_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield one way to make the wire."""
    need = case.need
    if not isinstance(need, WireToMake):
        return
    nominal = case.loom.find(need.wire)
    start, end = nominal.ends[0].at, nominal.ends[-1].at
    mm2, about_size = _size(case, need, nominal)
    colour, about_colour = _colour(case, need, nominal)
    metres, behind_trim = case.wire_length(start, end)
    if is_tail(case, nominal):
        metres = TAIL_METRES
    ends = tuple(
        e.model_copy(update={"fitting": e.fitting or choose_fitting(case, e.at, BODY_RING)})
        for e in nominal.ends
    )
    made = nominal.model_copy(update={"colour": (colour,), "mm2": (mm2,), "metres": (metres,), "ends": ends})
    way = f"{metres:g} m from {address_words(case.loom, start)} to {address_words(case.loom, end)}"
    facts = [about_size, about_colour, f"{way}, slack included"]
    if behind_trim:
        facts.append("the way goes behind trim: pull it through with a draw cord first, crimp afterwards")
    yield Proposal((Make(made, nominal),), Reason("new-wire", tuple(facts)))


def _size(case: Case, need: WireToMake, nominal: Wire) -> tuple[float, str]:
    """The cross-section in mm2, and why."""
    lengthens = [mm2 for wire, n in lengthened_by(case, nominal) for mm2 in wire.areas_at(n)]
    if lengthens:
        most = most_mm2(case, (end.at for end in nominal.ends))
        if most is not None and max(lengthens) > most.value:
            return most.value, f"{most.value:g} mm2, the most that its terminal takes ({most.source})"
        if (together := mm2_for_all(case, nominal, sum(lengthens))) > max(lengthens):
            each = " + ".join(f"{mm2:g}" for mm2 in lengthens)
            return (
                together,
                f"{together:g} mm2, for the wires that it stands for, {each}, with no fuse before it",
            )
        return max(lengthens), f"{max(lengthens):g} mm2, as the wire it lengthens"
    role = case.role_of(need.role)
    if role and nominal.mm2[0] > role.mm2:
        return nominal.mm2[0], f"{nominal.mm2[0]:g} mm2, as its current asks"
    if role:
        return role.mm2, f"{role.mm2:g} mm2, usual for {need.role}"
    beside = [w.end_mm2(n) for e in nominal.ends for w, n in case.wires_at(e.at) if w.wire != nominal.wire]
    if beside:
        return max(beside), f"{max(beside):g} mm2, as the wire it shares a terminal with"
    return nominal.mm2[0], f"{nominal.mm2[0]:g} mm2, the usual size"


def _colour(case: Case, need: WireToMake, nominal: Wire) -> tuple[str, str]:
    """A colour that no other wire at the places of either end has, nor the scheme another role, and why."""
    for wire, number in lengthened_by(case, nominal):
        colour = wire.end_colour(number)
        return colour, f"{colour_words(colour)}, as the wire it lengthens"
    return free_colour(case, need.role, nominal)
