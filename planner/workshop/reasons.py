"""Why one task comes before another, in a few words."""

from dataclasses import dataclass

BATTERY_OFF = "battery off first"
BATTERY_ON = "battery on last"
EARTHED_LAST = "the earthed post of the battery goes on last"
FREES_PLACE = "frees the place"
TAKEN_OFF = "taken off and insulated before the part comes out"
COMES_OFF = "comes off with the old part"
AT_ONCE = "a free end is insulated at once"
FIT_FIRST = "fit before its ends go on"
FREES = "frees the terminal"
ROOM = "makes room on the terminal"
LENGTHEN = "lengthened before it is crimped"
CRIMP = "crimped before it goes on"
HELD = "kept aside until then"
MAKE = "made wire before the part in it"
END_FIRST = "the end goes there before a part is put into it"
JOINED = "the new wire is there before it is joined"
PULL = "pull before crimp"
PULL_FIRST = "pull before what blocks the way"
FEEDS_LAST = "feeds last"


@dataclass(frozen=True, slots=True)
class Constraint:
    """One task before another, by their numbers in the work, and why."""

    first: int
    then: int
    why: str
