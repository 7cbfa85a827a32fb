"""Which way round a vehicle is, read before a fuse goes in that feeds what burns the wrong way round."""

from collections.abc import Collection, Iterator

from planner.messages import tr
from planner.model.elements import Fuse, Source
from planner.model.facts import ConductorFact, Facts
from planner.model.fitted_fuse import fused_side
from planner.model.part import Part
from planner.model.polarity import polarity_of
from planner.model.wording import body_words
from planner.workshop.ends.names import Names
from planner.workshop.words.contacts import is_contact

_BURNS = ("negative-earth", "positive-earth")  # made for one pole earthed: electronics
_FEEDS = ("always-live", "ignition-live")


def polarity_reads(names: Names, facts: Facts, left_off: Collection[str]) -> Iterator[tuple[str, str]]:
    """Yield what is read of each part that minds, with the fuse that feeds it, if that is always the same.

    ``facts`` are those of the loom after; ``left_off`` are places whose feed stays off anyway.
    """
    for place in _minding(names):
        if place not in left_off:
            yield from _reads(names, facts, place)


def vehicle_reads(names: Names, facts: Facts) -> Iterator[str]:
    """Yield where volts are read with no fuse in, if the battery is another or sits the other way round."""
    parts = names.catalogue.parts
    batteries = {
        place
        for place, fitted in names.after.places.items()
        if any(isinstance(e, Source) and not e.when for e in parts[fitted.part].inside)
    }
    before = names.before.places
    exchanged = any(p not in before or before[p].part != names.after.places[p].part for p in batteries)
    if names.before.supply == names.after.supply and not exchanged:
        return
    fed = (
        f"{place}:{mark}"
        for place, fitted in names.after.places.items()
        for element in parts[fitted.part].inside
        if isinstance(element, Fuse)
        for mark in element.between
        if f"{place}:{mark}" != fused_side(place, element)
    )
    if at := next((at for at in fed if facts.at(at).live == "always"), None):
        yield tr(
            "No fuse in yet: {volts}: near the battery's volts. A minus, or the lamp in series lit: the "
            "battery's leads are changed over, or something before the fuses draws; off again, before any "
            "fuse goes in. Nothing, and the lamp dark: the way from the battery is open; find that first",
            volts=volts_words(names, names.at(at), body_words(names.after)),
        )


def _minding(names: Names) -> Iterator[str]:
    """Yield the places with what burns the wrong way round, where the work may have turned it round."""
    turned = names.before.supply.earthed != names.after.supply.earthed
    for place, fitted in names.after.places.items():
        part = names.catalogue.parts[fitted.part]
        is_minding = polarity_of(part) in _BURNS and not any(isinstance(e, Source) for e in part.inside)
        if is_minding and (turned or is_worked_on(names, place)):
            yield place


def is_worked_on(names: Names, place: str) -> bool:
    """Whether a place has another part than before, or other ends on it."""
    was, now = names.before.places.get(place), names.after.places[place]
    ends = [sorted(loom.ends_of_place(place)) for loom in (names.before, names.after)]
    return was is None or was.part != now.part or ends[0] != ends[1]


def _reads(names: Names, facts: Facts, place: str) -> Iterator[tuple[str, str]]:
    """Yield how the feeds of a part are read before it is on them, each with the fuse that feeds it."""
    fed = [(end, facts.at(f"{place}:{end[2]}")) for end in names.after.ends_of_place(place)]
    feeds = [(end, fact) for end, fact in fed if fact.nature in _FEEDS]
    title = names.after.place_title(place)
    switched = [each for each in fed if _is_fed_from_elsewhere(each[1], place)]
    for (wire, end, mark), fact in feeds or switched[:1]:
        named, back = names.named(wire, end), _return_at(names, facts, place)
        at = f"{place}:{mark}"
        yield (
            fact.fuse or "",
            tr(
                "First, as the {place} burns where plus and minus are changed over: take {wire} off {at}"
                "{plug}, {fuse}, and read {volts}{when}: plus, a volt or more (with the lamp in series less "
                "than the battery has, where other things draw too). A minus, or nothing: the wire stays off "
                "until that is put right. Else fuse out, the wire on again",
                place=title,
                wire=named,
                at=names.at(at),
                plug=_unplugged(names, at, back),
                fuse=fuse_in(fact),
                volts=volts_words(names, tr("its end"), names.at(back) if back else body_words(names.after)),
                when=when_words(fact),
            ),
        )


def _unplugged(names: Names, live: str, back: str) -> str:
    """The other way to have a wire off: its plug pulled, if it sits in one; a case never does."""
    if not is_contact(names, names.after, live):
        return ""
    if back and is_contact(names, names.after, back):
        return tr(" (or pull its plug, and read both in the plug)")
    return tr(" (or pull its plug, and read this contact in it)")


def _is_fed_from_elsewhere(fact: ConductorFact, place: str) -> bool:
    """Whether a switched feed comes to a part, and is not what the part itself gives."""
    return fact.nature == "switched-live" and all(not n.startswith(f"{place}/") for n in fact.depends_on)


def fuse_in(fact: ConductorFact) -> str:
    """Which fuse goes in so that a feed can be read."""
    if fact.fuse:
        return tr("put its fuse in")
    return tr("put in the fuse that feeds it (where several do, each alone)")


def when_words(fact: ConductorFact) -> str:
    """When a feed is live, where that is not always."""
    return f", {fact.when}" if fact.live == "sometimes" and fact.when else ""


def _return_at(names: Names, facts: Facts, place: str) -> str:
    """Where the current of a part goes back: a terminal of it that is earthed; empty for the body."""
    part: Part = names.catalogue.parts[names.after.places[place].part]
    earthed = [mark for mark in part.terminals if facts.at(f"{place}:{mark}").earthed == "always"]
    wired = [mark for mark in earthed if names.after.ends_at.get(f"{place}:{mark}")]
    marks = wired or earthed
    return f"{place}:{marks[0]}" if marks else ""


def volts_words(names: Names, live: str, back: str) -> str:
    """Volts from a live thing to where it goes back, the red tip on what has to be plus."""
    red, black = (live, back) if names.after.supply.earthed == "negative" else (back, live)
    return tr("volts, red tip on {red}, black tip on {black}", red=red, black=black)
