"""What a meter reads at a conductor that is only assumed, and what each answer means."""

from planner.messages import tr
from planner.model.facts import ConductorFact
from planner.model.loom import Loom
from planner.model.wording import KEY_OFF, body_words, volts_to_body

Answers = tuple[tuple[str, str], ...]


def meter_at(loom: Loom, fact: ConductorFact, at: str) -> str:
    """Which meter, and where its tips go."""
    if fact.live != "never":
        return tr("voltmeter from {at} to {body}", at=at, body=volts_to_body(loom))
    return tr("ohmmeter from {at} to {body}", at=at, body=body_words(loom))


def reading_of(fact: ConductorFact, supply_volts: float) -> tuple[str, Answers]:
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
