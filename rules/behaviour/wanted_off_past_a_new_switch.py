"""A load that a new switch is to put out is fed past it: the switch goes into its feed.

What it looks for
A wish that a load be off at a position of a switch in a new place, not met, where the contact that this
position opens has no wire on either side; and the one end that feeds the load.

Why it matters
A cut-out beside the wire cuts nothing. With no wire on it, it is a switch that looks as if it were one: after
a crash the pump goes on.

Before
An inertia switch in a new place, nothing on it, and the pump's feed on the pump.

After
The pump's feed on the one side of the switch, and a wire from its other side to the pump; or the same at the
end at which the feed begins, whichever is less work.

Limits
Only where the wish names the load and the position, for which load a cut-out is meant its marks do not say.
A battery isolator is put into no feed of one load: which leads go through it another rule asks. An end in the
middle of a chain is left alone: what lies beyond it would be cut off too.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_wire
from planner.engine.removed import ISOLATED
from planner.messages import tr
from planner.model.delta import EndRef, Reason
from planner.model.elements import Contact
from planner.model.loom import split_address
from planner.model.need import BareTerminal, Emission, Fitted, Proposal, Remark
from planner.model.wording import address_words

RULE = "wanted-off-past-a-new-switch"


def propose(case: Case) -> Iterator[Emission]:
    """Yield the switch in the load's feed, at its near end and at its far end."""
    need = case.need
    if (
        isinstance(need, Fitted)
        and need.at not in case.before.places
        and not case.loom.ends_of_place(need.at)
    ):
        part = case.part(need.at)
        contacts = [e for e in part.inside if isinstance(e, Contact)] if part is not None else []
        roles = {terminal.role for terminal in part.terminals.values()} if part is not None else {ISOLATED}
        if part and ISOLATED not in roles and any(set(part.controls) & set(e.when) for e in contacts):
            text = tr(
                "{place}: its marks do not say what it is to switch; name that in the job, under 'wants', "
                "with 'is: off' and the position in which it is to be off, and the plan puts it in that feed",
                place=case.loom.place_title(need.at),
            )
            yield Remark(text, Reason(RULE, ("a switch in a new place has no wire on it",)))
    if not isinstance(need, BareTerminal) or split_address(need.at)[0] in case.before.places:
        return
    for other, place, what in _wanted_off(case, need.at):
        for fed, (wire, end) in _feeds(case, place, what):
            facts = (
                f"{what} is wanted off by the {case.loom.place_title(split_address(need.at)[0])}",
                f"{case.end_now(wire, end)} feeds {address_words(case.loom, fed)} past it",
            )
            why = Reason(RULE, facts, leans_on=((wire, end),))
            role = case.role(fed)
            yield Proposal((case.put(wire, end, need.at), draft_wire(case, other, fed, role)), why)
            ends = case.loom.find(wire).ends
            from_ = ends[1 - end].at if len(ends) == 2 else "loose"
            if case.terminal(from_) is not None:
                before = draft_wire(case, from_, need.at, role)
                yield Proposal((case.put(wire, 1 - end, other), before), why)


def _wanted_off(case: Case, at: str) -> Iterator[tuple[str, str, str]]:
    """Yield the bare other side of a contact, and each load that is wanted off where it is open."""
    place, mark = split_address(at)
    part = case.part(place)
    for contact in part.inside if part is not None else ():
        if not isinstance(contact, Contact) or len(contact.join) != 2 or mark not in contact.join:
            continue
        out = next(other for other in contact.join if other != mark)
        if (
            part is None
            or ISOLATED in (case.role(f"{place}:{out}"), case.role(at))
            or case.ends_at(f"{place}:{out}")
            or case.rank_in(part, out) < case.rank_in(part, mark)
        ):
            continue
        for wish in case.job.wants if case.wants(at) in ("live", "ignition") else ():
            opened = any(
                name.rpartition("/")[0] in ("", place)
                and set(labels).isdisjoint(contact.when.get(name.rpartition("/")[2], labels))
                for name, labels in wish.when.items()
            )
            for there in wish.at or case.loom.places if opened and wish.is_ == "off" else ():
                yield f"{place}:{out}", there, wish.what


def _feeds(case: Case, place: str, what: str) -> Iterator[tuple[str, EndRef]]:
    """Yield the terminal by which a load is fed, and the one end on it."""
    part = case.part(place)
    for load in part.inside if part is not None else ():
        if part is None or getattr(load, "does", None) != what:
            continue
        marks = sorted(getattr(load, "between", ()), key=lambda mark: case.rank_in(part, mark))
        ends = case.ends_at(f"{place}:{marks[0]}") if marks else ()
        if len(ends) == 1 and not case.is_middle(*ends[0]):
            yield f"{place}:{marks[0]}", ends[0]
