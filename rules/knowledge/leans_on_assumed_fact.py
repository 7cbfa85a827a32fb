"""The plan leans on a wire or a free terminal that is only assumed: one reading settles it.

What it looks for
A wire end on which the settled plan leans and whose place or nature nobody has seen or measured, alone on its
terminal; a free terminal of a part that is only assumed, to which a new wire goes.

Why it matters
A plan that leans on a guess is not finished. The reading is taken before anything is moved, and each answer
says what to do.

Before
A brown wire on the feed terminal of the lighting switch that nobody has measured.

After
Off, the meter from it to bare metal: battery volts with everything off, and it is the feed that it was taken
for.

Limits
One reading a wire, where the job works on it. What the answers say about the conductor comes from the loom as
it was drawn, which is what the reading checks. Wires that share a terminal, a part that is only assumed and
an end that nobody has seen have rules of their own.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.messages import later, tr
from planner.model.delta import Reason
from planner.model.expected_reading import meter_at, reading_of
from planner.model.loom import split_address
from planner.model.need import Emission, LeansOn, Question
from planner.model.wording import address_words

_ON_A_TERMINAL = later("what is {wire}, on {at}?")


def propose(case: Case) -> Iterator[Emission]:
    """Yield one question, for an end or for a free terminal."""
    need = case.need
    if not isinstance(need, LeansOn):
        return
    if need.wire is None or need.end is None:
        if ":" in need.at:
            yield _about_terminal(case, need.at)
        return
    if need.wire not in case.before.wire_index or case.reading_end(need.wire) != need.end:
        return
    if len(case.ends_together(need.wire, need.end)) > 1:
        return
    wire, was = case.old_end(need.wire, need.end), case.before.find(need.wire).ends[need.end].at
    at, fact = address_words(case.before, was), case.facts.at(was)
    how, answers = reading_of(fact, case.before.supply.volts)
    # What gets its feed through the part itself reads nothing once it is off.
    is_at_part = split_address(was)[0] in case.before.places
    is_fed_here = is_at_part and fact.live != "never" and not case.is_fed_from_afar(need.wire, need.end)
    meter = meter_at(case.before, fact, wire)
    if was == "loose":
        about, where = tr("what is {wire}, which hangs loose?", wire=wire), meter
    elif case.is_switched_at(was) or is_fed_here:
        about, where = (
            tr(_ON_A_TERMINAL).format(wire=wire, at=at),
            tr("{meter}, left on {at}", meter=meter, at=at),
        )
    else:
        about, where = (
            tr(_ON_A_TERMINAL).format(wire=wire, at=at),
            tr("{meter}, taken off {at}", meter=meter, at=at),
        )
    yield Question(
        about=about,
        where=where,
        how=how,
        answers=answers,
        why=Reason(
            "leans-on-assumed-fact",
            (f"{wire}: only assumed, not measured",),
            leans_on=((need.wire, need.end),),
        ),
    )


def _about_terminal(case: Case, at: str) -> Question:
    """Ask what a free terminal is."""
    terminal, fact = address_words(case.before, at), case.facts.at(at)
    how, answers = reading_of(fact, case.before.supply.volts)
    why = Reason("leans-on-assumed-fact", (f"what {terminal} is, is only assumed",))
    return Question(
        tr("what is {terminal}?", terminal=terminal), meter_at(case.before, fact, terminal), how, answers, why
    )
