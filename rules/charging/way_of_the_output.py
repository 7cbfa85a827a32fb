"""What lies on the way from an alternator to the battery is looked at before its full output goes that way.

What it looks for
A fitted generator, and on the way from its output to the battery an ammeter whose scale ends below what it
gives, or a fuse without which no wire leads there.

Why it matters
An ammeter of 30 A in a circuit of 45 A burns, and the dash with it. A fuse that opens there takes the battery
off the alternator while it turns: the volts rise at once, and its diodes die.

Before
A dynamo of 22 A through an ammeter of 30 A; now an alternator of 45 A.

After
The output taken past the ammeter, or a voltmeter in its place, its two leads joined. Beside the plan both
leads on one terminal are offered; the ammeter then shows nothing.

Limits
Only what its output's own wires lead to is seen. Unasked it only says, and the plan stays open: whether the
ammeter may go is for the owner. Whether the cable stands the output is judged by amps.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.instruments import draft_past
from planner.messages import tr
from planner.model.delta import Reason
from planner.model.elements import Fuse, Gauge
from planner.model.loom import split_address
from planner.model.need import Emission, Fitted, Proposal, Remark
from planner.model.outputs import ammeters_too_small, charging_outputs
from planner.model.reach import conductor

RULE = "way-of-the-output"


def propose(case: Case) -> Iterator[Emission]:
    """Yield what has to be known of ammeters and fuses on the way of a fitted generator's output."""
    need = case.need
    part = case.part(need.at) if isinstance(need, Fitted) else None
    if part is None or not isinstance(need, Fitted):
        return
    generator = case.loom.place_title(need.at)
    for small in ammeters_too_small(case.loom, case.catalogue.parts, need.at):
        title = case.loom.place_title(small.place)
        facts = (_gives(generator, small.most_amps),)
        text = tr(
            "the {place} ends at {end:g} A and the {generator} gives up to {most:g} A: do not "
            "start the engine before the output goes past it, or a voltmeter is fitted and its "
            "two leads, a ring on each, are joined on an M6 stud under a cover. To have that in "
            "the steps, plan again with the {place} taken out and nothing in its place, or fit "
            "one that goes up to {most:g} A",
            place=title,
            generator=generator,
            end=small.gauge.full_scale_amps,
            most=small.most_amps,
        )
        yield Remark(text, Reason(RULE, facts), is_open=True)
        if past := draft_past(case, small.place, small.gauge.between):
            told = (f"join the leads of the {title}, so that the output goes past it", *facts)
            yield Proposal(past, Reason(RULE, told), offer=True)
    for output, most_amps in charging_outputs(part):
        if _reaches_battery(case, f"{need.at}:{output}"):
            continue
        for address in conductor(case.loom, f"{need.at}:{output}"):
            place, mark = split_address(address)
            there = case.part(place)
            if there and any(isinstance(e, Fuse) and mark in e.between for e in there.inside):
                text = tr(
                    "the {place} is a fuse between the {generator} and the battery: if it opens at work, "
                    "the volts rise at once; keep it only if the maker of the {generator} asks for it",
                    place=case.loom.place_title(place),
                    generator=generator,
                )
                yield Remark(text, Reason(RULE, (_gives(generator, most_amps),)))


def _gives(generator: str, most_amps: float) -> str:
    return f"the {generator} gives up to {most_amps:g} A"


def _reaches_battery(case: Case, output: str) -> bool:
    """Whether wires lead from an output to a battery, by way of ammeters but of nothing else."""
    seen: set[str] = set()
    queue = [output]
    while queue:
        for address in set(conductor(case.loom, queue.pop())) - seen:
            seen.add(address)
            place, mark = split_address(address)
            part = case.part(place)
            if part is not None and mark in part.battery_posts:
                return True
            for element in part.inside if part else ():
                if isinstance(element, Gauge) and mark in element.between and element.is_in_series:
                    queue += [f"{place}:{other}" for other in element.between]
    return False
