"""One fuse is not to carry both headlamps.

What it looks for
A fitted part with a fuse, or with a wire on the fused side of one, where the same filament of two headlamps
now hangs on that fuse and did not do so before.

Why it matters
When that fuse blows, at night and at speed, everything goes dark at once. With a fuse a side one lamp is
left.

Before
The lighting switch had an unfused feed and each filament its own fuse.

After
A plan that feeds the switch through one fuse is remarked on; the feed rules themselves do not propose it.

Limits
Looks at the wiring only, every contact closed; whether the lamps burn there is for the proof. A filament that
is fed in another way too, as by a flash, does not hang on the fuse. Silent where the vehicle was so before.
The fuse that the plan gives the relay of one beam leaves others: of it only is said which.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.headlamps import beams_left, darkens_both_headlamps, headlamps_beyond
from planner.messages import tr
from planner.model.delta import Reason
from planner.model.fitted_fuse import fuse_words
from planner.model.loom import Loom, split_address
from planner.model.need import Emission, Fitted, Remark
from planner.model.reach import Consumer, conductor, fuse_ways, hanging_on
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a remark for each fuse that has come to carry both headlamps by way of the fitted part."""
    need = case.need
    if not isinstance(need, Fitted):
        return
    for place in case.loom.places:
        for way in fuse_ways(case.loom, case.catalogue, place):
            at = f"{place}:{way.sides[1]}"
            touches = {split_address(a)[0] for a in conductor(case.loom, at)}
            if need.at not in touches:
                continue
            shared = _shared_filaments(case, case.loom, at)
            for does in sorted(shared - _shared_filaments(case, case.before, at) if shared else shared):
                facts = (
                    f"the fuse of {fuse_words(way.amps, way.marked)} at {address_words(case.loom, at)} "
                    f"reaches {does} on both sides",
                )
                left = _beams_left(case, place, at)
                text = (
                    tr(
                        "one fuse carries {beam} of both headlamps: give each side a fuse of its own",
                        beam=does,
                    )
                    if not left
                    else tr(
                        "the {fuse} carries {beam} of both headlamps: when it blows, that beam is dark on "
                        "both sides; the other beam is left",
                        fuse=case.loom.place_title(place),
                        beam=does,
                    )
                    if headlamps_beyond(case, at) <= {lamp.place for lamp in left}
                    else tr(
                        "the {fuse} carries {beam} of both headlamps: when it blows, that beam is dark on "
                        "both sides; what is left then is {left}",
                        fuse=case.loom.place_title(place),
                        beam=does,
                        left=tr(" and ").join(
                            tr("{beam} of the {lamp}", beam=c.does, lamp=case.loom.place_title(c.place))
                            for c in left
                        ),
                    )
                )
                yield Remark(text, Reason("one-fuse-both-headlamps", facts))


def _beams_left(case: Case, place: str, at: str) -> list[Consumer]:
    """The beams that a fuse in line in a new place leaves when it blows; none of any other fuse."""
    is_own = place not in case.before.places and not case.is_swapped(place)
    return beams_left(case, at) if is_own and not darkens_both_headlamps(case, at) else []


def _shared_filaments(case: Case, loom: Loom, at: str) -> set[str]:
    """What headlamps of more than one place do that hang on an address of a loom."""
    if split_address(at)[0] not in loom.places:
        return set()
    lamps = hanging_on(loom, case.catalogue, at, "head")
    return {one.does for one in lamps if any(o.does == one.does and o.place != one.place for o in lamps)}
