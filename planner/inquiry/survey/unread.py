"""What a survey's answers leave to the pattern: the supply, which a plan asks; sizes, lengths, fuses."""

from collections.abc import Iterator

from planner.inquiry.survey.prepare import Survey
from planner.model.catalogue import Catalogue
from planner.model.doubt import Doubt
from planner.model.elements import Fuse
from planner.model.survey_lines import Answers
from planner.model.wording import counted


def supply_doubt(survey: Survey, answers: Answers) -> Iterator[Doubt]:
    """Yield the question which supply the vehicle has, as far as nobody has said."""
    supply = survey.loom.supply
    said = [(answers.volts, f"{supply.volts:g} V"), (answers.earthed, f"{supply.earthed} earth")]
    blank = ", ".join(words for value, words in said if value is None)
    if not blank:
        return
    yield Doubt(
        about=f"whether your vehicle has {blank}, as the pattern has: nobody has said",
        where="the battery: its filler caps, about 2 V each, and the post whose cable goes to the body; or a "
        "voltmeter from the other post to bare metal of the body",
        how="everything switched off",
        answers={
            blank: "enter it in the vehicle's rows of the table, and read the table again",
            "anything else": "enter it so: the pattern is then taken at that supply",
        },
    )


def not_read(survey: Survey, answers: Answers, catalogue: Catalogue) -> Iterator[str]:
    """Yield what amps and volts rest on and nobody has read: sizes, lengths, fuses."""
    wires = survey.loom.wires
    sized = {line.wire for line in survey.asked if line.wire and answers.of(line).mm2 is not None}
    unsized = sum(wire.wire not in sized for wire in wires)
    if unsized:
        every = "every one" if unsized == len(wires) else f"{unsized} of {len(wires)}"
        yield f"the size in mm2 of {counted(len(wires), 'wire')} ({every}): the pattern's"
    if wires:
        yield "the length of every wire: the pattern's"
    parts = [catalogue.parts[place.part] for place in survey.loom.places.values()]
    is_fused = any(isinstance(element, Fuse) for part in parts for element in part.inside)
    if is_fused or survey.loom.fuses or any(feed.fuse_amps for feed in survey.loom.feeds.values()):
        yield "the amps of every fuse: the pattern's"
