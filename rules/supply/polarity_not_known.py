"""Whether a part minds which pole is earthed is asked where its data do not tell.

What it looks for
A part that stays while the other pole is earthed and whose data do not say what becomes of it: a motor
(magnets or a wound field?), a gauge, an apparatus with unknown insides.

Why it matters
A magnet motor runs backwards, a wound one does not; electronics are destroyed. To assume either is a gamble
with the part.

Before
A wiper motor of which nobody knows how its field is made.

After
The plan waits for the answer.

Limits
It asks one question a part. What lamps, switches, fuses, coils and thermal flashers do needs no asking:
they do not mind; a diode or LED does.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.messages import tr
from planner.model.delta import Reason
from planner.model.need import Emission, OtherPole, Question
from planner.model.polarity import polarity_of


def propose(case: Case) -> Iterator[Emission]:
    """Yield the question what becomes of a part."""
    need = case.need
    part = case.part(need.at) if isinstance(need, OtherPole) else None
    if part is None or not isinstance(need, OtherPole) or polarity_of(part) is not None:
        return
    title = case.loom.place_title(need.at)
    yield Question(
        about=tr("does the {place} mind which pole is earthed?", place=title),
        where=tr(
            "the {place}, off the vehicle: its plate, or a compass held to its case with no current",
            place=title,
        ),
        how=tr(
            "a magnet in a motor turns the compass strongly all round; for electronics look for a printed + "
            "or -, a polarity plug or the words negative or positive earth"
        ),
        answers=(
            (tr("no magnet, no electronics"), tr("enter polarity: indifferent for the part and plan again")),
            (
                tr("a magnet motor, a coil or an ammeter"),
                tr("enter polarity: reverses; its leads are exchanged"),
            ),
            (
                tr("made for one pole"),
                tr("enter polarity: negative-earth or positive-earth; it may have to come out"),
            ),
        ),
        why=Reason(
            "polarity-not-known", (f"nothing is said of what the {title} does with the other pole earthed",)
        ),
    )
