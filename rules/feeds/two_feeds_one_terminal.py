"""Two old feed ends meet at one new feed terminal: the onward feed is joined, never dropped.

What it looks for
A loose end that was live on a feed terminal, where the old part had two feed terminals or more with wires on
them and the new part has one. Which of the two ends brings the feed is seen from the wiring: its conductor is
fed by something else than the part that came out.

Why it matters
The second wire may be the onward feed of everything else. Called spare and tied back it takes the ignition,
the horn and half the fuse box with it. If it is a feed of its own, tying both together puts two fuses in
parallel.

Before
A lighting switch with two feed terminals linked inside; the second passes the battery feed on.

After
Both ends on the one feed terminal of the new switch, with a piggyback where it holds only one; where it takes
none, or both are over 4 mm2, both ends in a joiner with a short lead to the terminal.

Limits
A second end that has a feed of its own is left to be covered, and a remark says why. Where the end itself is
only assumed to be what the drawing says, a reading is asked for.

Source
common practice, no source
"""

from collections.abc import Iterator
from dataclasses import replace

from planner.engine.case import Case
from planner.engine.drafting import draft_wire
from planner.engine.feeding import feed_terminals, has_own_supply, live_ends_before
from planner.engine.relieving import piggyback_bears
from planner.messages import tr
from planner.model.delta import Join, Operation, Piggyback, Reason
from planner.model.loom import split_address
from planner.model.need import Emission, LooseEnd, Proposal, Question, Remark
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield the ways to bring an onward feed to the one feed terminal, or say why it stays off."""
    need = case.need
    if not isinstance(need, LooseEnd):
        return
    place, _ = split_address(need.was)
    live = live_ends_before(case, place)
    feeds = [end for end in live if end[2] != need.was]
    if not feeds or (need.wire, need.end, need.was) not in live:
        return
    targets = feed_terminals(case, place)
    if len(targets) != 1:
        return
    target, other = targets[0], feeds[0]
    end = case.old_end(need.wire, need.end)
    onward = not has_own_supply(case, need.was)
    has_other = any(has_own_supply(case, was) for _, _, was in feeds)
    facts = (
        f"{end} was on {address_words(case.before, need.was)}, "
        f"{case.old_end(other[0], other[1])} on {address_words(case.before, other[2])}",
        f"the new part has one feed terminal, {address_words(case.loom, target)}",
        f"{end} passed the feed on" if onward else f"{end} has a feed of its own",
    )
    why = Reason("two-feeds-one-terminal", facts, leans_on=((need.wire, need.end),))
    if onward and has_other:
        for operations in _joinings(case, need, other, target):
            yield Proposal(operations, why)
    elif not onward and has_other and case.role(target) != case.old_role(need.was):
        text = tr("{wire} keeps a feed of its own: cover it, do not join it to another feed", wire=end)
        yield Remark(text, why)
    if case.before.find(need.wire).end_known(need.end) == "assumed" and has_other:
        yield Question(
            about=tr("whether {wire} brings a feed or passes one on", wire=end),
            where=tr("{wire}, taken off {at}, and earth", wire=end, at=address_words(case.before, need.was)),
            how=tr(
                "volts, with {wire} off as well and every switch on", wire=case.old_end(other[0], other[1])
            ),
            answers=(
                (tr("supply volts"), tr("a feed of its own: cover it, and do not join the two")),
                (tr("nothing"), tr("the onward feed of everything behind it: join it to the feed")),
            ),
            why=why,
        )


def _joinings(
    case: Case, need: LooseEnd, other: tuple[str, int, str], target: str
) -> Iterator[tuple[Operation, ...]]:
    """Yield the end on the terminal beside the other, or both in a joiner if the terminal takes one."""
    move = case.put(need.wire, need.end, target)
    waiting = case.loom.find(other[0]).ends[other[1]].at == "loose"
    if case.room(target) >= 1 + waiting:
        yield (move,)
    elif piggyback_bears(case, target, ((need.wire, need.end), other[:2])):
        yield (Piggyback(target), move)
    elif waiting:
        ends = tuple(sorted(((need.wire, need.end, need.was), other)))
        join = Join(ends, f"joint:{split_address(target)[0]}-feed")
        joined = replace(case, loom=join.apply(case.loom))
        yield (join, draft_wire(joined, join.joint, target, case.role(target)))
    elif case.takes_piggyback(target):
        yield (move,)  # the terminal is full then, and gets a joiner
