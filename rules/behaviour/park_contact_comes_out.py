"""A park contact that comes out at a terminal of its own is linked to where the old motor had it.

What it looks for
A cam that the proof found stopping off its park, whose contact comes out at a bare terminal; the old motor
had that contact inside, between the same other terminal and the return of a winding.

Why it matters
The later motor is made for a switch that feeds the park contact at off. Behind the old switch nothing does,
and the blades stop where they are.

Before
The old motor parks by a contact between 31 and the return of its winding; the new one has it between 31 and a
terminal of its own, which is bare.

After
A link at the motor from that terminal to the return of the winding.

Limits
Only where both contacts share all but one purpose. What the link does in every position is for the proof.

Source
common practice, no source
"""

from collections.abc import Iterator
from itertools import product

from planner.engine.case import Case
from planner.engine.drafting import draft_wire
from planner.engine.parking import park_contacts, roles_joined
from planner.model.delta import Reason
from planner.model.elements import Cam
from planner.model.need import Emission, Fault, Proposal
from planner.model.part import Part
from planner.model.wording import address_words, park_name


def propose(case: Case) -> Iterator[Emission]:
    """Yield a link from each bare terminal of the contact to each of the purpose that the old one was on."""
    need = case.need
    if not isinstance(need, Fault) or need.kind not in ("lost", "changed"):
        return
    part, old = case.part(need.at), case.old_part(need.at)
    if part is None or old is None:
        return
    ours = [c for e in old.inside if isinstance(e, Cam) for c in park_contacts(old, e)]
    cams = [e for e in part.inside if isinstance(e, Cam) and park_name(e.name) == need.what]
    for was, now in product(ours, [c for cam in cams for c in park_contacts(part, cam)]):
        before, after = roles_joined(old, was), roles_joined(part, now)
        if len(before - after) != 1:
            continue
        bare = [m for m in _of_roles(part, after - before) if not case.ends_at(f"{need.at}:{m}")]
        for mark, other in product(bare, _of_roles(part, before - after)):
            at, to = f"{need.at}:{mark}", f"{need.at}:{other}"
            facts = (
                f"the old motor parks by a contact at its {' and '.join(sorted(before))}",
                f"that of the new one comes out at {address_words(case.loom, at)}, and no wire is on it",
            )
            add = draft_wire(case, at, to, case.role(at))
            yield Proposal((add,), Reason("park-contact-comes-out", facts))


def _of_roles(part: Part, roles: frozenset[str]) -> list[str]:
    """The terminals of some roles that take a wire."""
    return [mark for mark, t in part.terminals.items() if t.role in roles and t.by == "wire"]
