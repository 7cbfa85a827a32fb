"""A battery in a new place is no consumer: which cables, switch and fuses join it, the owner has to say.

What it looks for
A battery that the job fits where none was, and no wire on its posts.

Why it matters
What the starter takes, and what a flat battery takes from a full one, goes through whatever joins the two: a
lamp's fuse blows and a lamp's wire burns. Two batteries that are always joined are flat together.

Before
A second battery in the back, for the lamps of the camp.

After
The battery is fitted and nothing joined to it; a remark says with what it would be.

Limits
It joins nothing. How thick the cable to it has to be hangs on what charges it and on its loads, and no loom
says that before it is drawn.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.relieving import battery_poles
from planner.messages import tr
from planner.model.delta import Reason
from planner.model.loom import split_address
from planner.model.need import Emission, Fitted, Remark
from planner.model.wording import address_words, mark_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a remark on how a battery in a new place would be joined, while it is not."""
    need = case.need
    part = case.part(need.at) if isinstance(need, Fitted) else None
    if part is None or not isinstance(need, Fitted) or need.at in case.before.places:
        return
    if not part.battery_posts or any(case.ends_at(f"{need.at}:{post}") for post in part.battery_posts):
        return
    live, earthed = part.battery_posts[:2]
    words = {
        "place": case.loom.place_title(need.at),
        "live": mark_words(live),
        "earthed": mark_words(earthed),
    }
    first = [(pole, case.wires_at(pole)) for pole, _ in battery_poles(case) if case.ends_at(pole)]
    others = [(pole, wires) for pole, wires in first if split_address(pole)[0] != need.at]
    if others:
        pole, wires = others[0]
        text = tr(
            "{place}: nothing is joined to it, for a battery is no consumer: what the starter takes would go "
            "through a lamp's fuse and wire. {live} goes to {first} through a battery selector or a "
            "split-charge relay, with a fuse close to each battery and a cable that stands that fuse; "
            "{earthed} goes where that of the first battery goes, by a cable as thick ({mm2} mm2). Until "
            "then cover both posts. Enter it so in the loom, and plan again",
            **words,
            first=address_words(case.loom, pole),
            mm2=f"{max(wire.end_mm2(end) for wire, end in wires):g}",
        )
    else:
        text = tr(
            "{place}: nothing is joined to it, for a battery is no consumer. Main cables go on {live} and "
            "{earthed}, as thick as the starter's current asks for. Until then cover both posts. Enter it "
            "so in the loom, and plan again",
            **words,
        )
    yield Remark(text, Reason("battery-in-a-new-place", (f"no end is on {live} or {earthed}",)))
