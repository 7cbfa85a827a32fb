"""One lamp or relay coil made for fewer volts than the vehicle has now can be kept with a dropper before it.

What it looks for
A part that stays while the volts rise, with one load in it whose current is always the same, and a terminal
that leads to this load alone with one end on it.

Why it matters
The resistor that takes the difference is the difference divided by the load's amps. It burns as many watts as
the load does when the volts are doubled, so it gets hot.

Before
A 6 V relay whose coil of 60 ohm takes 0.1 A, on 12 V.

After
A dropper of 60 ohm in the wire to its coil; it burns 0.6 W, and one made for 0.9 W or more is taken.

Limits
Never before a motor, a gauge or an apparatus, whose amps change; a second load on the dropper breaks the
calculation for both. The catalogue's dropper must leave the load between 0.9 and 1.05 times its volts and
stand 1.5 times the watts that it burns (the margin is common practice, no source).

Source
Ohm's law
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_insert
from planner.engine.resupplying import fixed_load, has_other_volts, like_parts
from planner.messages import tr
from planner.model.delta import Reason
from planner.model.elements import Coil, Resistor
from planner.model.need import Emission, OtherVolts, Proposal, Remark

FAMILY = "in-line"
MARGIN = 1.5  # times the watts that it burns
LEAST_SHARE, MOST_SHARE = 0.9, 1.05  # of the load's rated volts


def propose(case: Case) -> Iterator[Emission]:
    """Yield a dropper for one fixed load, or what it would have to be if the catalogue has none."""
    need = case.need
    part = case.part(need.at) if isinstance(need, OtherVolts) else None
    if part is None or not isinstance(need, OtherVolts) or not has_other_volts(case, need.at):
        return
    load, mark = fixed_load(part) or (None, "")
    at, volts = f"{need.at}:{mark}", case.loom.supply.volts
    rated_v = getattr(load, "volts", None) or part.volts
    if load is None or volts <= rated_v or len(case.ends_at(at)) != 1:
        return
    ohms = load.ohms if isinstance(load, Coil) else rated_v**2 / load.watts
    amps = rated_v / ohms
    wanted, burns = (volts - rated_v) / amps, (volts - rated_v) * amps
    facts = (
        f"the {case.loom.place_title(need.at)} takes {amps:.3g} A at its {rated_v:g} V; the other "
        f"{volts - rated_v:g} V need {wanted:.3g} ohm, which burn {burns:.3g} W",
        f"with {MARGIN:g} times margin the dropper is made for {MARGIN * burns:.3g} W or more; it gets hot: "
        "mount it in free air, away from the loom",
        "it suits this one load: nothing else may be put on it",
    )
    found = sorted(_droppers(case, ohms, rated_v, volts))
    for _, dropper, enters, leaves in found[:1]:
        insert = draft_insert(case, *case.ends_at(at)[0], case.catalogue.parts[dropper], enters, leaves)
        yield Proposal((insert,), Reason("one-load-of-other-volts", facts, "Ohm's law"))
    if not found and not like_parts(case, part):
        text = tr(
            "{place}: it could be kept with a dropper of {ohms:.3g} ohm for {watts:.3g} W or more before "
            "this one load, and the catalogue has none",
            place=case.loom.place_title(need.at),
            ohms=wanted,
            watts=MARGIN * burns,
        )
        yield Remark(text, Reason("one-load-of-other-volts", facts, "Ohm's law"))


def _droppers(
    case: Case, load_ohms: float, rated_v: float, volts: float
) -> Iterator[tuple[float, str, str, str]]:
    """Yield what fits, by how far it leaves the load from its volts, with the terminals it is wired by."""
    for part in case.catalogue.family(FAMILY):
        for element in part.inside:
            if isinstance(element, Resistor) and element.watts:
                amps = volts / (load_ohms + element.ohms)
                share = amps * load_ohms / rated_v
                is_strong = MARGIN * amps**2 * element.ohms <= element.watts
                if LEAST_SHARE <= share <= MOST_SHARE and is_strong:
                    yield abs(share - 1.0), part.part, *element.between
