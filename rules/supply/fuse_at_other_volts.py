"""A fuse that stays while the volts change carries other amps and is rated anew.

What it looks for
A part with fuses that stays while the volts change.

Why it matters
At twice the volts the same watts take half the amps. The wires stay, for they carry less; but a fuse of the
old rating lets twice as much through as the circuit now takes, and a fault on the way burns longer. At half
the volts it is the other way round, and a larger fuse than the wire stands is the classic mistake.

Before
A 10 A fuse for 6 V lamps, the tractor becomes 12 V.

After
The same holder with a fuse of half the amps, which is said. At half the volts the fuses stay, and so is said.

Limits
Reckoned from the fuse that is there, for loads of the same watts: a lamp of other watts or a motor changes
it. The fuse must never be larger than the thinnest wire behind it stands.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.model.delta import Reason
from planner.model.elements import Fuse
from planner.model.need import Emission, OtherVolts, Remark
from planner.model.wording import mark_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield what the fuses of a part should be at the new volts."""
    need = case.need
    part = case.part(need.at) if isinstance(need, OtherVolts) else None
    fuses = [e for e in part.inside if isinstance(e, Fuse)] if part else []
    if not fuses or not isinstance(need, OtherVolts):
        return
    old, new = case.before.supply.volts, case.loom.supply.volts
    fact = f"at {new:g} V the same watts take {old / new:.3g} times the amps that they took at {old:g} V"
    if new > old:
        alike: dict[float, list[str]] = {}
        for fuse in fuses:
            alike.setdefault(fuse.amps, []).append(mark_words(fuse.between[1]))
        rated = ", ".join(
            f"{amps * old / new:.3g} A in place of {amps:g} A (at {', '.join(marks)})"
            for amps, marks in alike.items()
        )
        advice = (
            f"that is {rated}, or the next fuse made above it, of the same marking; the wires stay, "
            "they carry less"
        )
    else:
        advice = (
            "the fuses stay: if one blows now, it is the wire that has become too thin for the load, and a "
            "larger fuse would burn it"
        )
    title = case.loom.place_title(need.at)
    yield Remark(f"{title}: {fact}; {advice}", Reason("fuse-at-other-volts", (fact,)))
