"""In one position of the switch nothing works: the output it feeds there has no wire.

What it looks for
A position that the proof found dead, the output that the switch feeds there and that carries no wire, and the
terminal that carries the wire of the neighbouring position.

Why it matters
A two-speed switch before a one-speed motor stops the wipers dead, off their park, just when it rains hardest.

Before
53b of the switch is live at "fast" and bare; the motor's only wire is on 53.

After
Offered: a bridge from 53b to 53 at the switch, tagged, to come out when the two-speed motor is fitted.

Limits
Only an output of the same switch, chosen from its contacts with its other controls at rest. What the bridge
does in the other positions is for the proof.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_wire
from planner.model.delta import Operation, Piggyback, Reason
from planner.model.need import Emission, Fault, Proposal
from planner.model.part import Part
from planner.model.reach import joined_inside
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a tagged bridge from the output that is alive there to the neighbour's terminal, as an offer."""
    need = case.need
    if not isinstance(need, Fault) or need.hazard != "dead-position" or need.control is None:
        return
    name = case.own_variable(need.at, need.control.rpartition("/")[2])
    part = case.part(need.at)
    if part is None or name not in part.controls or not need.positions:
        return
    labels = [p.label for p in part.controls[name].positions]
    dead = case.local_setting(need.at, need.positions[0]).get(name)
    if dead not in labels:
        return
    index = labels.index(dead)
    outputs = [m for m in _outputs(case, part, name, dead) if not case.ends_at(f"{need.at}:{m}")]
    for near in (index - 1, index + 1):
        if not 0 <= near < len(labels):
            continue
        carrying = [m for m in _outputs(case, part, name, labels[near]) if case.ends_at(f"{need.at}:{m}")]
        for output, carrier in ((o, c) for o in outputs for c in carrying):
            start, end = f"{need.at}:{output}", f"{need.at}:{carrier}"
            facts = (
                f"at {dead!r} the switch feeds {address_words(case.loom, start)}, which carries no wire",
                f"at {labels[near]!r} it feeds {address_words(case.loom, end)}, which does",
                "tag the bridge: it comes out when the output is wired",
            )
            add: Operation = draft_wire(case, start, end, case.role(end), tagged=True)
            operations = (add,) if case.room(end) > 0 else (Piggyback(end), add)
            yield Proposal(operations, Reason("dead-position", facts), offer=True)
        if outputs and carrying:
            return


def _outputs(case: Case, part: Part, name: str, label: str) -> list[str]:
    """The wired terminals that the part joins to a feed with one control at a label, the others at rest."""
    place = case.need.at if isinstance(case.need, Fault) else ""
    setting = {n: values[0] for n, values in part.variables.items()} | {name: label}
    feeds = [m for m in part.terminals if case.wants(f"{place}:{m}") in ("live", "ignition")]
    joined = [m for feed in feeds for m in joined_inside(part, feed, setting) if m not in feeds]
    return [m for m, t in part.terminals.items() if m in joined and t.by == "wire"]
