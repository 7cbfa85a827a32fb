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
One reading for all ends of a terminal, also one whose other end nobody has seen: joined as it was before, it
may lead anywhere. What the answers say comes from the loom as it was drawn, which is what the reading checks.

Source
common practice, no source
"""

from collections.abc import Iterator, Sequence

from planner.engine.case import Case
from planner.messages import tr
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
    wires, at = tr(" and ").join(case.old_end(*one) for one in together), address_words(case.before, was)
    tips = {"wires": wires, "body": volts_to_body(case.loom), "at": at}
    if case.is_switched_at(was):
        where = tr("voltmeter from {wires} to {body}, left on {at}", **tips)
    else:
        where = tr("voltmeter from {wires} to {body}, taken off {at}", **tips)
    is_any_fed = any(case.is_fed_from_afar(*one) for one in together)
    unseen = [case.old_end(*one) for one in together if case.is_unseen(one[0])]
    yield Question(
        about=tr("what are {wires}, on {at}?", wires=wires, at=at),
        where=where,
        how=tr(
            "each wire by itself, the others off and insulated; {key_off}, then ignition on",
            key_off=tr(KEY_OFF),
        ),
        answers=tuple(_answers(case.before.supply.volts, unseen, is_any_fed=is_any_fed)),
        why=Reason(
            "assumed-wires-share-terminal", (f"{wires}: only assumed, not measured",), leans_on=together
        ),
    )


def _answers(volts: float, unseen: Sequence[str], *, is_any_fed: bool) -> Iterator[tuple[str, str]]:
    """Yield what each reading means; the expected one first."""
    wherever = tr(", {wires} too, wherever it ends", wires=tr(" and ").join(unseen)) if unseen else ""
    if is_any_fed:
        yield (
            tr("about {volts:g} V on one wire only", volts=volts),
            tr(
                "that wire is the feed, the others carry it onward{wherever}: keep them joined",
                wherever=wherever,
            ),
        )
        yield (
            tr("about {volts:g} V on more than one", volts=volts),
            tr("they are separate feeds: never join them; enter them so and plan again"),
        )
        yield tr("nothing on any"), tr("none is a feed: enter them so and plan again")
    else:
        yield (
            tr("nothing on any"),
            tr(
                "they carry onward what the part feeds, as assumed{wherever}: keep them joined",
                wherever=wherever,
            ),
        )
        yield (
            tr("about {volts:g} V on one or more", volts=volts),
            tr(
                "live from the far end, a feed of its own: never join it with another; enter it so and plan "
                "again"
            ),
        )
