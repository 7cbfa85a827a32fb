"""Why one task comes before another, in a few words."""

from dataclasses import dataclass

from planner.messages import later

BATTERY_OFF = later("battery off first")
BATTERY_ON = later("battery on last")
EARTHED_LAST = later("the earthed post of the battery goes on last")
FREES_PLACE = later("frees the place")
TAKEN_OFF = later("taken off and insulated before the part comes out")
TANK_SHUT = later("cut, crimped and shrunk while the tank is shut")
COMES_OFF = later("comes off with the old part")
AT_ONCE = later("a free end is insulated at once")
FIT_FIRST = later("fit before its ends go on")
FREES = later("frees the terminal")
ROOM = later("makes room on the terminal")
LENGTHEN = later("lengthened before it is crimped")
CRIMP = later("crimped before it goes on")
HELD = later("kept aside until then")
IN_LINE = later("the part in line is there before its wire goes on")
END_FIRST = later("the end goes there before a part is put into it")
JOINED = later("the new wire is there before it is joined")
PULL = later("pull before crimp")
PULL_FIRST = later("pull before what blocks the way")
FEEDS_LAST = later("feeds last")


@dataclass(frozen=True, slots=True)
class Constraint:
    """One task before another, by their numbers in the work, and why."""

    first: int
    then: int
    why: str
