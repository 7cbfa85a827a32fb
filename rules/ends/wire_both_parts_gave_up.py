"""A wire that both its parts have given up serves what the new parts need between the same two places.

What it looks for
A loose end of a wire, or of wires joined on the way, whose other end hung on another part that the job takes
out too, and nothing else on them; no terminal of its old role on either new part, and a bare terminal of one
and the same role on both.

Why it matters
The way is there already: through the bulkhead, the column, behind the trim. A new wire beside it is an hour
more, and the old one stays behind as a live question for whoever comes next.

Before
The horn's return through the column; a new horn that earths itself, and a push that switches its feed.

After
The old wire leads from the push to the horn. Its colour says something else now, so both ends are tagged.

Limits
Only where the wire led to nothing else. Whether it is thick enough is judged by amps.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.model.delta import EndRef, Reason
from planner.model.loom import split_address
from planner.model.need import Emission, LooseEnd, Proposal
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield both ends of the wire on the two terminals of one role."""
    need = case.need
    far = _far_end(case, need) if isinstance(need, LooseEnd) else None
    if not isinstance(need, LooseEnd) or far is None:
        return
    other, was = far
    here, there = split_address(need.was)[0], split_address(was)[0]
    for at, role in _bare(case, here, need.was):
        for beyond, partner in _bare(case, there, was):
            if partner != role or "partner" not in (case.wants(at), case.wants(beyond)):
                continue
            facts = (
                f"{case.old_end(need.wire, need.end)} led from {address_words(case.before, need.was)} to "
                f"{address_words(case.before, was)} and to nothing else; both terminals are gone",
                f"{address_words(case.loom, at)} and {address_words(case.loom, beyond)} belong together: "
                f"{case.role_words(role)}; tag both ends, for the colour says something else",
            )
            moves = (case.put(need.wire, need.end, at), case.put(*other, beyond))
            leans = ((need.wire, need.end), other)
            yield Proposal(moves, Reason("wire-both-parts-gave-up", facts, leans_on=leans))


def _far_end(case: Case, need: LooseEnd) -> tuple[EndRef, str] | None:
    """The one other end of an end's conductor, where it was: loose now, of another part that came out."""
    addresses = [a for a in case.facts.at(need.was).addresses if not a.startswith("joint:")]
    others = [a for a in addresses if a != need.was]
    if len(others) != 1 or len(case.before.ends_at[need.was]) != 1:
        return None
    place = split_address(others[0])[0]
    ends = [(w, n) for w, n, was in case.freed_ends(place) if was == others[0]]
    is_alone = len(case.before.ends_at.get(others[0], ())) == 1
    return (ends[0], others[0]) if ends and is_alone and case.is_swapped(place) else None


def _bare(case: Case, place: str, was: str) -> Iterator[tuple[str, str]]:
    """Yield each bare terminal of a new part with its role; nothing where the end's old role has one."""
    part = case.part(place)
    terminals = part.terminals.items() if part is not None else ()
    if any(t.role == case.old_role(was) for _, t in terminals):
        return
    for mark, terminal in terminals:
        at = f"{place}:{mark}"
        if terminal.role is not None and terminal.by == "wire" and not case.ends_at(at):
            yield at, terminal.role
