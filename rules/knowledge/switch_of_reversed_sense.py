"""A switch that closes where the old one opens is the wrong switch, and no move of its wires mends that.

What it looks for
A fitted part that joins two roles just in those positions of a control or a condition in which the part
before did not.

Why it matters
Switches of either sense look alike. The wires go on as before and everything works, the other way round: stop
lamps that burn until the pedal is pressed, an interior lamp that empties the battery behind shut doors.

Before
A stop lamp switch that closes when the pedal is pressed.

After
The switch is fitted as the job says; a remark names what is reversed, and what would put it right.

Limits
Only contacts that one control or condition works are compared. What it comes to for each load is for the
proof.

Source
common practice, no source
"""

from collections.abc import Iterator, Mapping

from planner.engine.case import Case
from planner.messages import tr
from planner.model.delta import Reason
from planner.model.elements import Contact
from planner.model.need import Emission, Fitted, Remark
from planner.model.part import Part
from planner.model.same_variables import match_variables

Joined = Mapping[tuple[str, frozenset[str]], frozenset[str]]


def propose(case: Case) -> Iterator[Emission]:
    """Yield a remark for the first pair of roles that is joined in just the other positions."""
    need = case.need
    if not isinstance(need, Fitted):
        return
    old, new = case.old_part(need.at), case.part(need.at)
    if old is None or new is None or old == new:
        return
    names = {theirs: ours for ours, theirs in match_variables(old, new).names.items()}
    before, after = _joined(old, {}), _joined(new, names)
    for (name, roles), positions in after.items():
        was = before.get((name, roles), frozenset())
        if not was or was & positions or was | positions != _values(case, old, name):
            continue
        title = case.loom.place_title(need.at)
        now, then = (" or ".join(sorted(each)) for each in (positions, was))
        text = tr(
            "{place}: a switch of reversed sense. It closes with {name} at {now}, the old one with it at "
            "{then}; no move of its wires mends that. Take one that closes with it at {then}. A break relay "
            "that it works, 30 and 87a in the load's feed, would turn it round too; but its coil takes "
            "current as long as the load is off, so only for what goes off with the ignition",
            place=title,
            name=name,
            now=now,
            then=then,
        )
        fact = (
            f"{' and '.join(sorted(roles))} were joined with {name} at {then}, and now are with it at {now}"
        )
        yield Remark(text, Reason("switch-of-reversed-sense", (fact,)))
        return


def _joined(part: Part, names: Mapping[str, str]) -> Joined:
    """In which positions each two roles are joined, by the one variable that decides it."""
    found: dict[tuple[str, frozenset[str]], frozenset[str]] = {}
    for element in part.inside:
        if isinstance(element, Contact) and len(element.when) == 1:
            roles = frozenset(t.role for m, t in part.terminals.items() if m in element.join and t.role)
            ((name, labels),) = element.when.items()
            if len(roles) == 2:
                control = part.controls.get(name)
                meanings = {p.label: p.meaning for p in control.positions} if control else {}
                key = (names.get(name, name), roles)
                found[key] = found.get(key, frozenset()) | {meanings.get(each, each) for each in labels}
    return found


def _values(case: Case, part: Part, name: str) -> frozenset[str]:
    """Every position of a control of the old part, by what it means, or every value of a condition."""
    control = part.controls.get(name)
    positions = control.positions if control is not None else case.loom.conditions.get(name, ())
    return frozenset(position.meaning for position in positions)
