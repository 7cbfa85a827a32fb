"""What holds for all tests of a meter page: the meter, the battery, the tips, the lamp."""

from planner.model.loom import Loom
from planner.testing.page.bands import LAMP_WATTS
from planner.testing.page.tolerance import (
    JOINT_TIMES,
    LEAST_CHARGE,
    LOAD_SHARE,
    METER_OHMS,
    METER_SHARE,
    METER_VOLTS,
)

PRACTICE = "common practice, no source"


def notes(loom: Loom) -> tuple[str, ...]:
    """The notes of one vehicle."""
    tips = (
        "This vehicle has its positive pole earthed: the tips are changed over, so good volts are positive."
    )
    return (
        f"The bands allow for a meter that is off by {100 * METER_SHARE:g} % and {METER_VOLTS:g} V, or "
        f"{METER_OHMS:g} ohm with its leads; a battery from full to {100 * LEAST_CHARGE:g} % charge, engine "
        f"off; wires and joints from {JOINT_TIMES:g} times better to {JOINT_TIMES:g} times worse than "
        f"computed; lamps, windings and coils {100 * LOAD_SHARE:g} % either way ({PRACTICE}).",
        "Hold the tips together first: what the meter shows then is its leads; take it off every reading of "
        "ohms.",
        *([tips] if loom.supply.earthed == "positive" else []),
        f"With a test lamp ({LAMP_WATTS:g} W, {loom.supply.volts:g} V) instead of a meter: prove it on a "
        "battery first. For volts it goes where the tips go. For ohms it goes in series with a battery of "
        "its own, never with anything electronic on the circuit. A lamp loads what it tests, so behind a "
        "poor joint it stays dark where a meter still shows volts.",
    )
