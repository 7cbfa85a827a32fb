"""The cautions that stand on every plan and sheet, in their order: common practice, no source."""

from planner.messages import later

CAUTIONS = (
    later("Earthed pole of the battery off first and on last; off again before each change."),
    later("Mind fuel and battery gas; rings and watch straps off; chock the wheels."),
    later("Stop where insulation cracks when it is bent: that wire is replaced, not moved."),
    later("Photograph, tag, and move one wire at a time."),
    later("Where the drawing and the vehicle disagree, the meter wins."),
    later("Insulate every free end at once."),
    later("The fuse fits the thinnest wire behind it."),
    later(
        "The right crimp for the terminal, and a tug test; no solder where it flexes, no self-piercing taps."
    ),
    later("Grommets and clips; keep clear of exhaust, steering column, pedals and fuel."),
    later("Disconnect electronics before welding or insulation tests."),
    later("First power is limited by a lamp in series; an extinguisher within reach."),
    later(
        "Lighting, brakes, signalling and towing: local regulations apply; have it checked by a licensed or "
        "competent person before it goes on the road."
    ),
)

# The same where the vehicle stands on no wheels and goes on no road, by their place in the order.
_AFLOAT = {
    1: later(
        "Mind battery gas, and fuel vapour, which gathers in the bilge: air it and sniff there first; rings "
        "and watch straps off."
    ),
    8: later(
        "Grommets and clips; keep clear of exhaust, shaft, steering gear and fuel, and above the bilge."
    ),
    11: later(
        "Navigation lights, horn and bilge pump: local regulations apply; have it checked by a licensed or "
        "competent person before it leaves its mooring."
    ),
}


def cautions_for(*, is_boat: bool) -> tuple[str, ...]:
    """The cautions for a vehicle on wheels or a boat: as many, each in its place."""
    return tuple(_AFLOAT.get(place, said) if is_boat else said for place, said in enumerate(CAUTIONS))
