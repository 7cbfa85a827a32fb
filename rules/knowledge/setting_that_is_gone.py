"""A setting of the old part that the new one has not: what happened there cannot be had from it.

What it looks for
A control of the part that comes out with a setting in which its contacts join something, and no setting of
that meaning on the new part's control, nor one that does the same under another label.

Why it matters
A key switch without "start" cranks nothing, whatever goes where. The plan then lists all that used to work
in that setting, ten lines of it, and the reason is one word.

Before
An ignition switch with off, on and start; the new one has off and on.

After
The new one is fitted as the job says; a remark says that nothing is left of "start".

Limits
Nothing is said where another new part of the job works all that only this setting worked, as a starter push
does beside a key without "start". It proposes nothing: what cranks the engine then, or lights the lamps, is
for the owner to say.

Source
common practice, no source
"""

from collections.abc import Iterator
from collections.abc import Set as AbstractSet

from planner.engine.case import Case
from planner.engine.worked import worked_by
from planner.messages import tr
from planner.model.delta import Reason
from planner.model.elements import Contact
from planner.model.need import Emission, Fitted, Remark
from planner.model.old_names import meanings_as
from planner.model.part import Part
from planner.model.same_variables import match_variables


def propose(case: Case) -> Iterator[Emission]:
    """Yield a remark for each control with settings that are gone."""
    need = case.need
    old, new = (case.old_part(need.at), case.part(need.at)) if isinstance(need, Fitted) else (None, None)
    if not isinstance(need, Fitted) or old is None or new is None or old == new:
        return
    for ours, theirs in match_variables(old, new).names.items():
        if ours not in old.controls or theirs not in new.controls:
            continue
        kept = {position.meaning for position in new.controls[theirs].positions}
        kept |= {meaning for (name, _), meaning in meanings_as(old, new).items() if name == theirs}
        worked = {
            label
            for element in old.inside
            if isinstance(element, Contact)
            for label in element.when.get(ours, ())
        }
        gone = [p for p in old.controls[ours].positions if p.meaning not in kept and p.label in worked]
        if gone and not _is_done_elsewhere(case, need.at, old, ours, {p.label for p in gone}):
            settings = tr(" or ").join(f"'{position.label}'" for position in gone)
            text = tr(
                "{place}: the new part has no {settings} at its {control}. What the old one did there "
                "cannot be had from it, whatever goes where: something else has to do it, or this is not "
                "the part",
                place=case.loom.place_title(need.at),
                settings=settings,
                control=ours,
            )
            fact = f"'{ours}' of the old part has {settings}, '{theirs}' of the new one has not"
            yield Remark(text, Reason("setting-that-is-gone", (fact,)))


def _is_done_elsewhere(case: Case, place: str, old: Part, control: str, gone: AbstractSet[str]) -> bool:
    """Whether other parts that the job fits work all that only the settings that are gone worked."""
    worked = worked_by(case, case.before, place, old)
    missed = {load for load, (name, labels) in worked.items() if name == control and gone >= {*labels}}
    others = {swap.at for swap in case.job.swaps} - {place}
    done = {
        load
        for other in others
        if (part := case.part(other)) is not None
        for load in worked_by(case, case.loom, other, part)
    }
    return bool(missed) and missed <= done
