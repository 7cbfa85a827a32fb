"""In one position of the switch nothing works: the output it feeds there has no wire.

What it looks for
A position that the proof found dead, the output that the switch feeds there and that carries no wire; a bare
terminal of the same role at a load, or else the terminal of the switch that carries the wire of the
neighbouring position.

Why it matters
A two-speed switch before a one-speed motor stops the wipers dead, off their park, just when it rains hardest.

Before
53b of the switch is live at "fast" and bare; the motor's only wire is on 53.

After
A wire from 53b to the motor's 53b, if it has one and it is bare. Otherwise offered: a bridge from 53b to 53
at the switch, tagged, to come out when the two-speed motor is fitted.

Limits
Only an output of the same switch, chosen from its contacts with its other controls at rest. What the bridge
does in the other positions is for the proof.

Source
common practice, no source
"""

from collections.abc import Iterator
from itertools import product

from planner.engine.case import Case
from planner.engine.drafting import draft_tap, draft_wire
from planner.engine.partners import outputs_at, partners
from planner.model.delta import Operation, Piggyback, Reason
from planner.model.need import Emission, Fault, Proposal
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a wire to a load that waits for the output that is alive there, and a bridge to its neighbour."""
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
    outputs = [m for m in outputs_at(case, need.at, {name: dead}) if not case.ends_at(f"{need.at}:{m}")]
    for output in outputs:
        yield from _wires(case, dead, f"{need.at}:{output}")
    for near in (index - 1, index + 1):
        if not 0 <= near < len(labels):
            continue
        carrying = [
            m for m in outputs_at(case, need.at, {name: labels[near]}) if case.ends_at(f"{need.at}:{m}")
        ]
        for output, carrier in product(outputs, carrying):
            yield _bridge(case, (dead, labels[near]), f"{need.at}:{output}", f"{need.at}:{carrier}")
        if outputs and carrying:
            return


def _wires(case: Case, dead: str, output: str) -> Iterator[Emission]:
    """Yield a wire from an output to the nearest bare terminal of its own role."""
    role = case.role(output)
    for load in partners(case, output, role) if role else ():
        if not case.ends_at(load):
            facts = (
                f"at {dead!r} the switch feeds {address_words(case.loom, output)}, which carries no wire",
                f"{address_words(case.loom, load)} has the same role, and no wire either",
            )
            yield Proposal(draft_tap(case, output, load, load, role), Reason("dead-position", facts))
            return


def _bridge(case: Case, labels: tuple[str, str], output: str, carrier: str) -> Proposal:
    """A tagged bridge from the output of the dead position to that of its neighbour, as an offer."""
    dead, near = labels
    facts = (
        f"at {dead!r} the switch feeds {address_words(case.loom, output)}, which carries no wire",
        f"at {near!r} it feeds {address_words(case.loom, carrier)}, which does",
        "tag the bridge: it comes out when the output is wired",
    )
    add = draft_wire(case, output, carrier, case.role(carrier), tagged=True)
    operations: tuple[Operation, ...] = (add,) if case.room(carrier) > 0 else (Piggyback(carrier), add)
    return Proposal(operations, Reason("dead-position", facts), offer=True)
