"""A part that goes in line with a wire, as a sentence for the bench."""

from planner.messages import tr
from planner.model.delta import Insert
from planner.model.elements import Diode
from planner.model.loom import split_address
from planner.model.measures import length_words
from planner.model.wording import colour_words, mark_words, small
from planner.workshop.ends.names import Names, end_words
from planner.workshop.words.wire_words import way_words


def inserted(names: Names, operation: Insert) -> str:
    """A part put between an end and its terminal, which way round, and the lead that is made for it."""
    part = names.catalogue.parts[operation.place.part]
    lead = names.wire(operation.lead.wire)
    _, leaves = split_address(lead.ends[0].at)
    ends = [end_words(end.fitting or names.usual_end(end.at)) for end in lead.ends]
    values = {
        "part": _with_article(small(part.title)),
        "to": names.at(lead.ends[-1].at),
        "enters": mark_words(operation.enters),
        "lead": tr(
            "{name}: {colour}, {size}, {length}, {way}",
            name=names.shown(lead.wire),
            colour=colour_words(lead.leg_colour(0)),
            size=names.size(lead.leg_mm2(0)),
            length=length_words(lead.leg_metres(0)),
            way=way_words(mark_words(leaves), tr("there"), ends),
        ),
    }
    was = names.before.end_address(operation.wire, operation.end)
    if was is None:
        said = tr("Put {part} in line at {to}; the lead {lead}", **values)
    else:
        wire = names.named(operation.wire, operation.end)
        if was != lead.ends[-1].at:
            wire = tr("{wire}, which was on {was},", wire=wire, was=names.was_at(was))
        said = tr(
            "Put {part} between {wire} and {to}; the wire on {enters}; the lead {lead}",
            wire=wire,
            **values,
        )
    if any(isinstance(element, Diode) for element in part.inside):
        said = tr("{put}; {band}", put=said, band=_band(names, operation))
    if any(terminal.by == "mounting" for terminal in part.terminals.values()):
        return tr("{put}; screwed to bare metal", put=said)
    return said


def _band(names: Names, operation: Insert) -> str:
    """Which way the band of a diode points."""
    part = names.catalogue.parts[operation.place.part]
    lead = names.wire(operation.lead.wire)
    leaves = split_address(lead.ends[0].at)[1]
    cathodes = {element.between[1] for element in part.inside if isinstance(element, Diode)}
    if leaves in cathodes:
        return tr("the band round it, its cathode, is towards {to}", to=names.at(lead.ends[-1].at))
    return tr("the band round it, its cathode, is towards the wire")


def _with_article(noun: str) -> str:
    return tr("an {noun}", noun=noun) if noun[:1] in "aeiou" else tr("a {noun}", noun=noun)
