"""A charge lamp that is too weak to excite an alternator gets a resistor beside it, or a filament lamp.

What it looks for
A fitted alternator or charge lamp, and on the alternator's lamp terminal a lamp that takes less than 2 W, or
nothing at all.

Why it matters
Until it charges, an alternator with its own regulator has no field but what comes through this lamp. With a
light-emitting one it may not begin to charge, or only at high revolutions.

Before
A light-emitting charge lamp of 0.3 W on D+.

After
A resistor of 82 ohms beside the lamp, which with it takes 2 W; or a filament lamp of 2 W and more. Both let
current back, which the light-emitting lamp did not, so a diode goes into the lamp's feed. Whether it charges
is measured.

Limits
How much current a field needs is not published for old units: 2 W and more is common practice, no source. So
it is asked and offered, not done. A resistor of less than half the computed ohms would take the place of the
lamp, not help it. Alternators with a residual field strong enough start without.

Source
common practice, no source
"""

from collections.abc import Iterator
from dataclasses import replace

from planner.engine.case import Case
from planner.engine.generators import unused_lamp_terminal, weak_charge_lamps
from planner.engine.resistors import SMALLEST, draft_beside, find_resistor, made_for_watts
from planner.messages import later, tr
from planner.model.charging_volts import charging_volts
from planner.model.delta import Reason
from planner.model.elements import Lamp, Led
from planner.model.loom import split_address
from planner.model.need import Emission, Fitted, Proposal, Question
from planner.model.wording import address_words

RULE = "charge-lamp-excites-field"
LEAST_WATTS = 2.0  # common practice, no source
DIODE_AMPS = 1.0  # the least that is sold for such work; 2 W take 0.17 A at 12 V. Common practice, no source
FAMILY = "resistor"
_WHEN = later(
    "comes last, with the engine: all steps done, first power passed, the output on its post and the battery "
    "on, as on the page Starting and charging; fast idle, everything else off; twice"
)


def propose(case: Case) -> Iterator[Emission]:
    """Yield the reading that tells whether a weak charge lamp will do, and a resistor beside it."""
    need = case.need
    if not isinstance(need, Fitted):
        return
    volts = case.loom.supply.volts
    for feed, lamp in weak_charge_lamps(case, need.at, LEAST_WATTS):
        place, _ = split_address(feed)
        title = case.loom.place_title(place)
        fact = f"the {title} takes {lamp.watts:g} W; the field wants a lamp of {LEAST_WATTS:g} W and more"
        why = Reason(RULE, (fact,))
        most_ohms = volts * volts / (LEAST_WATTS - lamp.watts)
        yield Question(
            tr(
                "whether the alternator begins to charge with a {lamp} of {watts:g} W",
                lamp=lamp.does,
                watts=lamp.watts,
            ),
            tr("voltmeter across the battery"),
            tr(_WHEN),
            _answers(
                volts,
                tr("it charges: the lamp is enough"),
                tr(
                    "put a resistor of {least:.0f} to {most:.0f} ohm, made for {made_for:g} W or more, "
                    "beside the lamp, across its two terminals, or fit a lamp of {watts:g} W and more. "
                    "With either goes a diode for {amps:g} A or more into the wire on {feed}, so that it "
                    "passes current only towards the lamp: without it current flows back through there "
                    "when the key goes off, and something may stay on that has to go off",
                    least=SMALLEST * most_ohms,
                    most=most_ohms,
                    made_for=made_for_watts(volts, SMALLEST * most_ohms),
                    watts=LEAST_WATTS,
                    amps=DIODE_AMPS,
                    feed=address_words(case.loom, feed),
                ),
            ),
            why,
            after_work=True,
        )
        yield from _beside(case, place, lamp, why)
    if (terminal := unused_lamp_terminal(case, need.at)) is not None:
        fact = f"no lamp or resistor leads to {address_words(case.loom, terminal)}"
        yield Question(
            tr(
                "whether the alternator begins to charge with nothing on {mark}",
                mark=split_address(terminal)[1],
            ),
            tr("voltmeter across the battery"),
            tr(_WHEN),
            _answers(
                volts,
                tr("it charges by itself; what tells that it does not is missing"),
                tr("a charge lamp of {watts:g} W and more from the ignition to it", watts=LEAST_WATTS),
            ),
            Reason(RULE, (fact,)),
            after_work=True,
        )


def _answers(supply_volts: float, charges: str, does_not: str) -> tuple[tuple[str, str], ...]:
    """What each reading means, from good to bad, so that none is without an answer."""
    volts = charging_volts(supply_volts)
    return (
        (tr("{low:g} to {high:g} V", low=volts.low, high=volts.high), charges),
        (
            tr("above {high:g} V", high=volts.high),
            tr(
                "it charges, but too much, which harms battery and lamps: stop the engine, and look at the "
                "regulator, its earth and the wire on which it reads the battery's volts before it runs again"
            ),
        ),
        (
            tr("{resting:g} to {low:g} V", resting=volts.resting, low=volts.low),
            tr(
                "not told yet: let it run fast for some minutes with all loads off, and read again; if it "
                "comes to {low:g} V it charges, if it stays or falls what is said for below {resting:g} V "
                "holds",
                resting=volts.resting,
                low=volts.low,
            ),
        ),
        (tr("below {resting:g} V", resting=volts.resting), does_not),
    )


def _beside(case: Case, place: str, lamp: Lamp | Led, why: Reason) -> Iterator[Proposal]:
    """Yield a resistor across a lamp that makes up for the missing watts."""
    volts = case.loom.supply.volts
    most_ohms = volts * volts / (LEAST_WATTS - lamp.watts)
    found = find_resistor(case, FAMILY, (most_ohms / 2, most_ohms), lambda ohms: volts * volts / ohms)
    if found is None:
        return
    part, resistor = found
    operations = draft_beside(case, part, *(f"{place}:{mark}" for mark in lamp.between))
    together = lamp.watts + volts * volts / resistor.ohms
    fact = f"{resistor.ohms:g} ohms beside it bring it to {together:.2g} W"
    yield Proposal(operations, replace(why, facts=(fact, *why.facts)), offer=True)
