"""A part that the job fits is made for other volts than the vehicle has.

What it looks for
A fitted part with a load, electronics or another apparatus inside, rated for other volts than the supply.

Why it matters
What lamps, coils and motors of other volts do is seen in the proof, and why is told. What electronics do with
half of their volts, nobody can compute: they may work, or switch nothing at all.

Before
An ignition module of 12 V on a tractor of 6 V.

After
As the plan says, with the question whether it works there, and how to try it before it is fitted.

Limits
It is not exchanged, since the job names it. An ammeter shows amps at any volts.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.resupplying import has_other_volts
from planner.messages import tr
from planner.model.delta import Reason
from planner.model.elements import Coil, Flasher, Gauge, Resistor
from planner.model.loom import Supply
from planner.model.need import Emission, Fitted, Question, Remark
from planner.model.part import Part
from planner.model.wording import mark_words, small

_TO_COIL = "1"  # DIN 72552


def propose(case: Case) -> Iterator[Emission]:
    """Yield the question whether a fitted apparatus works at the vehicle's volts; of others what they do."""
    need = case.need
    part = case.part(need.at) if isinstance(need, Fitted) else None
    if part is None or not isinstance(need, Fitted) or not has_other_volts(case, need.at):
        return
    title, volts = case.loom.place_title(need.at), case.loom.supply.volts
    fact = f"the {small(part.title)} is made for {part.volts:g} V, and the vehicle has {volts:g} V"
    if not any(isinstance(e, Flasher) or (isinstance(e, Resistor) and e.does) for e in part.inside):
        if not any(isinstance(e, Gauge) and e.is_in_series for e in part.inside):
            wrong = tr("it burns out") if part.volts < volts else tr("it does its work badly or not at all")
            text = tr(
                "{place}: made for {made:g} V, and the vehicle has {volts:g} V: {wrong}; look for one for "
                "{volts:g} V",
                place=title,
                made=part.volts,
                volts=volts,
                wrong=wrong,
            )
            yield Remark(text, Reason("fitted-for-other-volts", (fact,)))
        return
    yield Question(
        about=tr(
            "whether the {part} works at {volts:g} V; it is made for {made_for:g} V",
            part=small(part.title),
            volts=volts,
            made_for=part.volts,
        ),
        where=tr("the {place}, on the bench, before it is fitted", place=title),
        how=_tried(part, case.loom.supply),
        answers=(
            (
                tr("it does its task, warm and cold"),
                tr("it may be fitted; its maker's word outranks this"),
            ),
            (
                tr("it does not, or only sometimes"),
                tr("do not fit it; look for one made for {volts:g} V", volts=volts),
            ),
        ),
        why=Reason("fitted-for-other-volts", (fact,)),
    )


def _tried(part: Part, supply: Supply) -> str:
    """How a part is tried on a bench, where nothing feeds it and nothing that it works is there."""
    fed = tr(
        "it is fed from the vehicle's own battery of {volts:g} V, or from a bench supply of these volts, "
        "with a fuse of a few amps in the lead",
        volts=supply.volts,
    )
    supplied = next((e.between for e in part.inside if isinstance(e, Resistor) and e.does), None)
    outputs = [mark for mark, terminal in part.terminals.items() if terminal.role == _TO_COIL]
    if supplied is None or not outputs or any(isinstance(element, Coil) for element in part.inside):
        return tr(
            "{fed}, with what it works joined to it as in the vehicle; look whether it does its task", fed=fed
        )
    feed = supplied[0]
    plus, minus = supplied if supply.earthed == "negative" else supplied[::-1]
    return tr(
        "{fed}, plus on {plus} and minus on {minus}; in place of the coil, which makes high tension, a lamp "
        "of 5 W made for these volts from {feed} to {output}; turn its shaft slowly by hand: the lamp goes "
        "on and off once for each cylinder",
        fed=fed,
        feed=mark_words(feed),
        plus=mark_words(plus),
        minus=mark_words(minus),
        output=mark_words(outputs[0]),
    )
