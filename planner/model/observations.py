"""What a person sees of a vehicle after the work, and what a meter reads on it."""

from dataclasses import dataclass
from typing import Literal

from planner.problems import FilePlace

ObservationKind = Literal["looks", "volts", "ohms", "lamp", "fuse", "warm", "sits"]
Look = Literal["off", "glows", "dim", "full", "over", "flashes", "flashes slowly", "flashes fast"]
LOOKS: tuple[Look, ...] = (
    "off",
    "glows",
    "dim",
    "full",
    "over",
    "flashes",
    "flashes slowly",
    "flashes fast",
)
TEST_LAMP = ("dark", "dim", "lit")  # of a test lamp
# From here on ohms between two points of a vehicle say: not joined, on the meter page as in a hunt.
# Damp, dust and fingers at the tips read more; common practice, no source.
OPEN_OHMS = 50_000.0
UNSET: tuple[ObservationKind, ...] = ("ohms", "sits")  # what is read whatever the controls say
EVERYTHING = "everything"  # in place of a load: whatever works there in the vehicle as it should be
BODY = "earth"  # the address of the body's bare metal
Settings = tuple[tuple[str, str], ...]  # variables that are not at rest, and their labels, sorted


@dataclass(frozen=True, slots=True)
class Observation:
    """One thing that was seen or read.

    ``at`` is a load (``place/does``) for "looks", a wire's id for "warm", its end (``W36.1``) for "sits",
    else the address of a terminal; for "fuse" that of its fused side. ``to`` is where the black lead was;
    empty: on the battery's earthed post; ``BODY``: on bare metal. ``says`` are volts, ohms (``OPEN_OHMS`` and
    more: not joined), percent of a gauge's scale, a ``Look``, a word of ``TEST_LAMP``, "yes" and "no", or for
    "sits" the address where the end is, or "loose". ``settings`` are those of the controls; with "ohms" the
    battery is off, and with ``has_fuses_out`` the fuses are out too, as before first power; a "lamp" then
    has a battery of its own. ``at_rest`` are the variables that were said to be at rest.
    """

    kind: ObservationKind
    at: str
    says: float | str
    settings: Settings = ()
    to: str = ""
    said: str = ""
    place: FilePlace | None = None
    has_fuses_out: bool = False
    at_rest: tuple[str, ...] = ()
