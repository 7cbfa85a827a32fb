"""What holds for all tests of a meter page: the meter, the battery, the tips, the lamp."""

from collections.abc import Collection, Iterator, Mapping

from planner.messages import later, tr
from planner.model.elements import Winding
from planner.model.loom import Loom, split_address
from planner.model.part import Part
from planner.testing.meter import IGNITION, METER_OHMS, METER_SHARE, METER_VOLTS, TEST_LAMP_WATTS
from planner.testing.page.stabilised import Stabilised
from planner.testing.page.tolerance import (
    JOINT_TIMES,
    LEAST_CHARGE,
    LOAD_SHARE,
)

PRACTICE = later("common practice, no source")


TRAILER_SOCKET = "trailer-socket"


def notes(
    loom: Loom,
    parts: Mapping[str, Part],
    *,
    swings: bool = False,
    plus: bool = False,
    places: Collection[str] = (),
) -> tuple[str, ...]:
    """The notes of one vehicle; ``parts`` are those of the catalogue, ``swings`` that a reading does.

    ``plus`` is that one of ohms says which tip is plus, ``places`` are those at which a tip is put.
    """
    beats = tr(
        "Where a reading swings with a flasher, its figures are those while the lamps are lit. A pointer "
        "shows both halves; a digital meter jumps about, so read the most that its MAX or MIN/MAX key keeps, "
        "or use a test lamp."
    )
    sparks = tr(
        "Where the ignition works by a capacitor's discharge it holds hundreds of volts, for a while with "
        "the key off too: no test lamp and no fingers on coil, distributor or its box, with the engine "
        "stopped a meter that is good for it ({basis}).",
        basis=tr(PRACTICE),
    )
    diodes = tr(
        "Where a test of ohms says which tip is the meter's plus: it is the red one on most digital meters, "
        "the black one on many with a pointer; a second meter on volts tells, or a diode of which you know "
        "the band. Never use the diode range for ohms ({basis}).",
        basis=tr(PRACTICE),
    )
    has_sparks = any(parts[place.part].family == IGNITION for place in loom.places.values())
    tips = tr(
        "This vehicle has its positive pole earthed: the tips are changed over, so good volts are positive."
    )
    return (
        tr(
            "What counts as good allows for a meter that is off by {meter:g} % and {volts:g} V, or {ohms:g} "
            "ohm with its leads; a battery from full to {charge:g} % charge, engine off; wires and joints "
            "from {times:g} times better to {times:g} times worse than computed; lamps, windings and coils "
            "{loads:g} % either way ({basis}).",
            meter=100 * METER_SHARE,
            volts=METER_VOLTS,
            ohms=METER_OHMS,
            charge=100 * LEAST_CHARGE,
            times=JOINT_TIMES,
            loads=100 * LOAD_SHARE,
            basis=tr(PRACTICE),
        ),
        tr(
            "Hold the tips together first: what the meter shows then is its leads; take it off every reading "
            "of ohms. Open means what it shows with the tips apart: a 1 at the left, OL, or a line. A "
            "reading right on a limit belongs to the line nearer to good. A minus: first see that red is "
            "where the line says. If it is, no minus is good unless the line says so: two wires are changed "
            "over, and across a motor or a lamp they are its feed and its return."
        ),
        *([tips] if loom.supply.earthed == "positive" else []),
        tr(
            "With a test lamp ({watts:g} W, {volts:g} V) instead of a meter: prove it on a battery first. "
            "For volts it goes where the tips go. For ohms it goes in series with a battery of its own, "
            "never with electronics, a gauge or a tank sender on the circuit. A lamp loads what it tests, so "
            "behind a poor joint it stays dark where a meter still shows volts.",
            watts=TEST_LAMP_WATTS,
            volts=loom.supply.volts,
        ),
        tr(
            "Where the two tips lie far apart, lengthen a lead by some wire. Where a push, a lever or a "
            "key is held away from the tips, a helper holds it."
        ),
        *_of_trailers(loom, parts, places),
        *_of_motors(loom, parts, places),
        *_of_stabilisers(loom, parts, places),
        *([diodes] if plus else []),
        *([beats] if swings else []),
        *([sparks] if has_sparks else []),
    )


def _of_motors(loom: Loom, parts: Mapping[str, Part], places: Collection[str]) -> Iterator[str]:
    """Yield when a motor is read that is off, where a tip is on one that may have turned just before."""
    fitted = [part for place in places if (part := parts[loom.places[place].part]).family != IGNITION]
    turning = [e for part in fitted for e in part.inside if isinstance(e, Winding) and e.duty != "horn"]
    if turning:
        yield tr(
            "A motor that was just on, or that a key fed in passing, gives volts of its own until it stands: "
            "where it has to read nothing, wait for that ({basis}).",
            basis=tr(PRACTICE),
        )


def _of_stabilisers(loom: Loom, parts: Mapping[str, Part], places: Collection[str]) -> Iterator[str]:
    """Yield how volts behind a gauge stabiliser are read, where a tip is on it or on what it feeds."""
    outputs = [at for at in Stabilised(loom, parts).outputs if split_address(at)[0] in places]
    if outputs:
        own = [at.partition(":")[0] for at in outputs if _is_within(loom, parts, at)]
        titles = tr(" and ").join(map(loom.place_title, own))
        inside = tr(" (the {gauges} has its own inside)", gauges=titles) if own else ""
        yield tr(
            "Behind a gauge stabiliser{inside}: an electronic one gives steady volts. One of bimetal "
            "switches the battery's volts on and off, so a pointer swings and a digital meter jumps: good is "
            "then what is said as the middle of the swing, over a minute. Volts of the battery that stay on "
            "are not good: key off at once, for they destroy the gauge ({basis}).",
            inside=inside,
            basis=tr(PRACTICE),
        )


def _is_within(loom: Loom, parts: Mapping[str, Part], address: str) -> bool:
    """Whether a point of a part is none of its terminals."""
    place, mark = split_address(address)
    return place in loom.places and mark not in parts[loom.places[place].part].terminals


def _of_trailers(loom: Loom, parts: Mapping[str, Part], places: Collection[str]) -> Iterator[str]:
    """Yield where a tip goes on a socket, and when the plug of a trailer is in."""
    if loom.kind == "trailer":
        yield tr(
            "For ohms the trailer's plug is out of the towing vehicle, whose lamps would be read as well; "
            "at first power and for volts it is in, with an earth of the towing vehicle as the body. The "
            "towing vehicle's own lamps on the same fuse light a lamp in series too."
        )
    elif any(parts[loom.places[place].part].family == TRAILER_SOCKET for place in places):
        yield tr(
            "On a trailer socket the tips go to its wiring side, where the wires are on, not into the "
            "contacts: behind a converter those stay dead until it has a feed of its own. Nothing is plugged "
            "in unless a test says coupled; a board with lamps does for a trailer."
        )
