"""A fuse that stays while the volts change carries other amps, and is changed where it should be less.

What it looks for
A part with fuses that stays while the volts change.

Why it matters
At twice the volts the same watts take half the amps. The wires stay, for they carry less; but a fuse of the
old rating lets twice as much through as the circuit now takes, and a fault on the way burns longer. At half
the volts it is the other way round, and a larger fuse than the wire stands is the classic mistake.

Before
A 20 A fuse for 6 V lamps, the tractor becomes 12 V.

After
A fuse of half the amps in the same holder, or the next rating above it. At half the volts the fuses stay, and
so is said.

Limits
Reckoned from the fuse that is there, for loads of the same watts; where a load takes more than the new fuse
carries, the electrical view says so. Ratings are those of blade fuses: an old holder may want another kind.

Source
ISO 8820-3 for the ratings; common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.messages import tr
from planner.model.delta import ChangeFuse, Reason
from planner.model.elements import Fuse
from planner.model.fitted_fuse import fuse_as_fitted, fused_side
from planner.model.need import Emission, OtherVolts, Proposal, Remark

_SPARE = 0.8  # of a rating is carried for good: the table is asked for the load of a fuse, not its rating


def propose(case: Case) -> Iterator[Emission]:
    """Yield smaller fuses at higher volts; at lower ones that the fuses stay."""
    need = case.need
    part = case.part(need.at) if isinstance(need, OtherVolts) else None
    fuses = [fuse for fuse in part.inside if isinstance(fuse, Fuse)] if part else []
    if not fuses or not isinstance(need, OtherVolts):
        return
    old, new = case.before.supply.volts, case.loom.supply.volts
    fact = f"at {new:g} V the same watts take {old / new:.3g} times the amps that they took at {old:g} V"
    if new < old:
        text = tr(
            "{place}: at {new:g} V the same watts take {times:.3g} times the amps that they took at "
            "{old:g} V; the fuses stay: if one blows now, it is the wire that has become too thin for the "
            "load, and a larger fuse would burn it",
            place=case.loom.place_title(need.at),
            new=new,
            times=old / new,
            old=old,
        )
        yield Remark(text, Reason("fuse-at-other-volts", (fact,)))
        return
    why = Reason("fuse-at-other-volts", (fact, "the wires stay, they carry less"), "ISO 8820-3")
    changes = tuple(_changes(case, need.at, fuses, old / new))
    if changes:
        yield Proposal(changes, why)


def _changes(case: Case, place: str, fuses: list[Fuse], share: float) -> Iterator[ChangeFuse]:
    for own in fuses:
        fuse, at = fuse_as_fitted(case.loom, place, own), fused_side(place, own)
        continuous = fuse.amps if fuse.marked == "continuous" else fuse.amps / 2
        rated = case.catalogue.standards.fuse_for_load(_SPARE * continuous * share)
        if rated is not None and rated.value < continuous:
            yield ChangeFuse(at, rated.value, fuse.amps, case.loom.fuses.get(at))
