"""Why a step is there that the job does not name: a part that a rule adds or takes out, a fuse, a wire.

One sentence a rule, for the bench; with figures and facts the plan says it.
"""

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from planner.messages import later, tr
from planner.model.plan import PlanStep

_WHY: Mapping[str, str] = MappingProxyType(
    {
        "back-feed": later(
            "without it current flows back through there, and something stays on that has to go off"
        ),
        "coil-and-ballast-disagree": later("this coil wants these ohms before it, else it gets too hot"),
        "flasher-does-not-suit-lamps": later("the old flasher does not beat with what the new lamps take"),
        "fuse-at-other-volts": later("at the new volts the same watts take other amps"),
        "fuse-larger-than-wire": later("a fuse must let through no more than the wire behind it stands"),
        "fuse-smaller-than-load": later("the old fuse does not carry the new load for good"),
        "gauge-and-sender-disagree": later(
            "gauge and sender belong together: with the old one the gauge would show another level"
        ),
        "gauge-without-stabiliser": later(
            "the gauge is made for steady volts, and nothing gives it those any more"
        ),
        "heavy-load-on-old-way": later(
            "switch and wires of before are not made for the new load: a relay takes it over"
        ),
        "one-load-of-other-volts": later("it takes up the volts that are too many for what is behind it"),
        "part-of-other-volts": later("what was there is made for the volts of before"),
        "shared-indicator-with-led-lamps": later(
            "the indicator lamp went to earth through the turn lamps of the other side, and light-emitting "
            "ones do not let it"
        ),
        "terminal-carries-too-much": later(
            "the terminal of before would carry more than it is tested with; this one is the same inside"
        ),
        "wire-too-thin": later("a thinner wire does not stand what it has to carry now"),
    }
)


def reason_words(step: PlanStep) -> Iterator[str]:
    """Yield why a step is there, where that does not show from the job."""
    for rule in step.because:
        if rule in _WHY:
            yield tr("why: {reason}", reason=tr(_WHY[rule]))
            return
