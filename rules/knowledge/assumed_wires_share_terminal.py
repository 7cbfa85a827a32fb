"""Wires on one terminal are only assumed: each is measured by itself.

What it looks for
A wire end on which the settled plan leans, whose nature nobody has measured, and which shares its terminal
with others.

Why it matters
Of two wires on one feed terminal one may carry everything else onward, or both may be feeds. Joined or parted
wrongly, what lies beyond goes dark, or two feeds are tied together.

Before
Two brown wires on the feed terminal of the lighting switch, neither measured.

After
Both off, the meter from each to bare metal: battery volts on one only makes that one the feed and the other
the onward feed; volts on both means two feeds.

Limits
One reading for all ends of a terminal, also one whose other end nobody has seen. What the answers say comes
from the loom as it was drawn, which is what the reading checks.

Source
common practice, no source
"""

from collections.abc import Iterator, Sequence

from planner.engine.case import Case
from planner.model.delta import Reason
from planner.model.need import Emission, LeansOn, Question
from planner.model.wording import KEY_OFF, address_words, volts_to_body


def propose(case: Case) -> Iterator[Emission]:
    """Yield one question for all ends of a terminal."""
    need = case.need
    if not isinstance(need, LeansOn) or need.wire is None or need.end is None:
        return
    if need.wire not in case.before.wire_index or case.reading_end(need.wire) != need.end:
        return
    together = case.ends_together(need.wire, need.end)
    if len(together) == 1:
        return
    was = case.before.find(need.wire).ends[need.end].at
    wires, at = " and ".join(case.old_end(*one) for one in together), address_words(case.before, was)
    on_or_off = f"left on {at}" if case.is_switched_at(was) else f"taken off {at}"
    is_any_fed = any(case.is_fed_from_afar(*one) for one in together)
    unseen = [case.old_end(*one) for one in together if case.is_unseen(one[0])]
    yield Question(
        about=f"what are {wires}, on {at}?",
        where=f"voltmeter from {wires} to {volts_to_body(case.loom)}, {on_or_off}",
        how=f"each wire by itself, the others off and insulated; {KEY_OFF}, then ignition on",
        answers=tuple(_answers(f"about {case.before.supply.volts:g} V", unseen, is_any_fed=is_any_fed)),
        why=Reason(
            "assumed-wires-share-terminal", (f"{wires}: only assumed, not measured",), leans_on=together
        ),
    )


def _answers(volts: str, unseen: Sequence[str], *, is_any_fed: bool) -> Iterator[tuple[str, str]]:
    """Yield what each reading means; the expected one first."""
    if is_any_fed:
        yield (
            f"{volts} on one wire only",
            "that wire is the feed, the others carry it onward: keep them joined",
        )
        yield (
            f"{volts} on more than one",
            "they are separate feeds: never join them; enter them so and plan again",
        )
        yield "nothing on any", "none is a feed: enter them so and plan again"
    else:
        yield "nothing on any", "they carry onward what the part feeds, as assumed: keep them joined"
        yield (
            f"{volts} on one or more",
            "live from the far end, a feed of its own: never join it with another; enter it so and plan "
            "again",
        )
    for wire in unseen:
        means = "ohms from it to the terminals it may reach, battery off: enter where it ends and plan again"
        yield f"nothing on {wire}, whose other end nobody has seen", means
