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
from planner.model.facts import ConductorFact
from planner.model.loom import split_address
from planner.model.need import Emission, LeansOn, Question
from planner.model.wording import KEY_OFF, address_words, body_words, volts_to_body

Answers = tuple[tuple[str, str], ...]
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
    how, answers = _reading(fact, case.before.supply.volts)
    # What gets its feed through the part itself reads nothing once it is off.
    is_at_part = split_address(was)[0] in case.before.places
    is_fed_here = is_at_part and fact.live != "never" and not case.is_fed_from_afar(need.wire, need.end)
    meter = _meter(case, fact, wire)
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
    how, answers = _reading(fact, case.before.supply.volts)
    why = Reason("leans-on-assumed-fact", (f"what {terminal} is, is only assumed",))
    return Question(
        tr("what is {terminal}?", terminal=terminal), _meter(case, fact, terminal), how, answers, why
    )


def _meter(case: Case, fact: ConductorFact, at: str) -> str:
    """Which meter, and where its tips go."""
    if fact.live != "never":
        return tr("voltmeter from {at} to {body}", at=at, body=volts_to_body(case.before))
    return tr("ohmmeter from {at} to {body}", at=at, body=body_words(case.before))


def _reading(fact: ConductorFact, supply_volts: float) -> tuple[str, Answers]:
    """How to take the reading, and what each answer means; the expected one first."""
    return _volts(fact, supply_volts) if fact.live != "never" else _ohms(fact)


def _volts(fact: ConductorFact, supply_volts: float) -> tuple[str, Answers]:
    """The same of a feed."""
    if fact.nature == "always-live":
        expected = (
            tr("about {volts:g} V: ignition off too", volts=supply_volts),
            tr("an always-live feed, as assumed: the plan stands"),
        )
    elif fact.nature == "ignition-live":
        expected = (
            tr("about {volts:g} V: ignition on only", volts=supply_volts),
            tr("an ignition-switched feed, as assumed: the plan stands"),
        )
    else:
        when = fact.when or tr("in those settings")
        expected = (
            tr("about {volts:g} V: {when}", volts=supply_volts, when=when),
            tr("as assumed: the plan stands"),
        )
    otherwise = (
        tr("about {volts:g} V otherwise", volts=supply_volts),
        tr("another kind of feed than assumed: enter it so and plan again"),
    )
    nothing = (
        tr("nothing in any setting"),
        tr("not a feed, or broken: do not move it before it is traced"),
    )
    how = tr(
        "{key_off}; then ignition on; then with the settings that should make it live", key_off=tr(KEY_OFF)
    )
    return how, (expected, otherwise, nothing)


def _ohms(fact: ConductorFact) -> tuple[str, Answers]:
    """The same of what is never live."""
    if fact.nature == "earth":
        expected = (tr("under 1 ohm"), tr("goes to earth, as assumed: the plan stands"))
    elif fact.nature == "switched-earth":
        reads = tr("under 1 ohm {when}", when=fact.when) if fact.when else tr("under 1 ohm")
        expected = (reads, tr("goes to earth through a switch, as assumed: the plan stands"))
    elif fact.nature == "load":
        load = fact.loads[0][1] if fact.loads else tr("a load")
        reads = tr("a few ohms to some tens")
        expected = (reads, tr("goes to {load}, as assumed: the plan stands", load=load))
    else:
        reads = tr("no reading in any setting")
        expected = (reads, tr("goes nowhere live, as assumed: the plan stands"))
    how = tr(
        "earthed pole of the battery off, lowest ohms range; step through the settings that could matter"
    )
    other = tr("another conductor than assumed: trace it, enter it and plan again")
    return how, (expected, (tr("anything else"), other))
