"""An end from one side of a load goes to that side of the new load with the same task.

What it looks for
An end whose old terminal is a side of a load, and a new part with one load of the same task whose terminal on
that side has another role, because it is made to be fed or earthed in another way.

Why it matters
A horn has two sides, whatever is stamped there: the current comes in by one and leaves by the other. An end
that is tied back because a maker calls the terminal otherwise leaves the load dead.

Before
The feed of an insulated horn, on a terminal for the battery's feed.

After
It goes to the new horn's terminal, which is meant for the push's output.

Limits
Where the new part has a terminal of the old role, or the old part one of the new role, roles decide. A side
that the mounting connects is for the rules about earths. A load that was switched in its return keeps its
feed only if that return goes to the new load's other side: earthed there it would work as long as the feed is
live. A switched end is not put where a feed is wanted that another end of the old part brings.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.feeding import another_end_feeds
from planner.model.delta import Reason
from planner.model.elements import EndUser
from planner.model.loom import split_address
from planner.model.need import Emission, LooseEnd, Proposal
from planner.model.part import Part, Terminal
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a move to the same side of the only load of the same task."""
    need = case.need
    place, mark = split_address(need.was) if isinstance(need, LooseEnd) else ("", "")
    old, new = case.old_part(place), case.part(place)
    if not isinstance(need, LooseEnd) or old is None or new is None or case.old_role(need.was) is None:
        return
    for does in sorted({e.does for e in old.inside if isinstance(e, EndUser) and e.does}):
        was, now = _sides(case, old, does), _sides(case, new, does)
        if mark not in was or not now:
            continue
        side = was.index(mark)
        terminal = new.terminals.get(now[side])
        known = {t.role for t in new.terminals.values()} & {case.old_role(need.was)}
        if terminal is None or terminal.by != "wire" or known or terminal.role in case.claims(place):
            continue
        address = f"{place}:{now[side]}"
        if another_end_feeds(case, need, address):
            continue
        if not _other_follows(case, place, was[1 - side], new.terminals.get(now[1 - side])):
            continue
        facts = (
            f"{case.old_end(need.wire, need.end)} was on {address_words(case.before, need.was)}, one side of "
            f"its load ({does})",
            f"{address_words(case.loom, address)} is that side of the new part's load",
        )
        why = Reason("same-side-of-the-load", facts, leans_on=((need.wire, need.end),))
        yield Proposal((case.put(need.wire, need.end, address),), why)
        return


def _sides(case: Case, part: Part, does: str) -> tuple[str, ...]:
    """The terminals of the only load of a task, the side nearer to the live pole first; else nothing."""
    loads = [e for e in part.inside if isinstance(e, EndUser) and e.does == does]
    between = loads[0].between if len(loads) == 1 else ()
    ranks = [case.rank_in(part, mark) for mark in between]
    return tuple(sorted(between, key=lambda m: case.rank_in(part, m))) if len(set(ranks)) == 2 else ()


def _other_follows(case: Case, place: str, was: str, now: Terminal | None) -> bool:
    """Whether what is on a load's other side, if a switch works there, goes to the new load's other side."""
    old = f"{place}:{was}"
    fact = case.facts.at(old)
    if fact.earthed != "sometimes" or (now is not None and now.role == case.old_role(old)):
        return True
    swapped = any(case.is_swapped(split_address(at)[0]) for at in fact.addresses if at != old)
    is_claimed = now is None or now.role in case.claims(place)
    is_earthed = now is not None and now.by == "mounting" and case.loom.places[place].mounting != "insulated"
    return not (swapped or is_claimed or is_earthed)
