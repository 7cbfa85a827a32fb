"""What a survey asks about a vehicle's wiring, terminal by terminal, and what a person answers."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from planner.model.facts import Nature
from planner.model.loom import Pole

ReadingKind = Literal["live", "earth", "ohms", "nothing", "link"]
Method = Literal["volts", "ohms", "beep", "look", "bracket"]
AskedKind = Literal["wire", "empty", "mounting"]
ALWAYS, IGNITION, LIGHTS = "always", "ignition", "lights"


@dataclass(frozen=True, slots=True)
class MeterReading:
    """What a meter said at one wire taken off its terminal, in a person's words and as they were understood.

    ``when`` says with what it is live or earthed: always, ignition, lights, or anything else in words.
    """

    said: str
    kind: ReadingKind
    when: str = ALWAYS
    volts: float | None = None
    ohms: float | None = None
    to: str = ""  # of a link: place:terminal
    is_read_again: bool = False  # taken a second time, since it was doubted


@dataclass(frozen=True, slots=True)
class Answer:
    """What is known of one line; whatever is None is not known."""

    colour: str | None = None  # IEC 60757 code
    colour_said: str = ""  # if the code does not say all of it
    reading: MeterReading | None = None
    fitting: str | None = None
    mm2: float | None = None
    no_wire: bool = False  # somebody looked, and there is none
    note: str = ""

    @property
    def is_blank(self) -> bool:
        """Whether nothing is known: a note alone decides nothing."""
        return not self.no_wire and all(
            value is None for value in (self.colour, self.reading, self.fitting, self.mm2)
        )


@dataclass(frozen=True, slots=True)
class Asked:
    """One line: a wire's end at a terminal, a terminal without a wire, or how a part is mounted.

    ``nature`` is what the pattern has at the end, taken off its terminal; ``addresses`` is where it leads.
    """

    place: str
    mark: str
    kind: AskedKind
    number: int = 1  # of this wire among those on the terminal
    count: int = 1
    wire: str = ""
    end: int = 0
    role: str | None = None
    does: str = ""  # what a terminal of that role is called in plain words
    is_stamped: bool = True
    fitting: str = ""
    nature: Nature = "dead"
    when: str = ""
    depends_on: tuple[str, ...] = ()
    loads: tuple[tuple[str, str], ...] = ()
    addresses: tuple[str, ...] = ()
    is_swapped: bool = True

    @property
    def key(self) -> tuple[str, str, int]:
        """What one line is told from another by."""
        return self.place, self.mark, self.number


@dataclass(frozen=True, slots=True)
class Answers:
    """The answers to some lines by their keys; a number above a line's count is a wire the pattern lacks."""

    by_key: Mapping[tuple[str, str, int], Answer]
    volts: float | None = None  # of the supply, nominal; None if nobody has said
    earthed: Pole | None = None

    def of(self, asked: Asked) -> Answer:
        """What is known of one line."""
        return self.by_key.get(asked.key, Answer())

    @property
    def known(self) -> int:
        """How many lines somebody has answered."""
        return sum(not answer.is_blank for answer in self.by_key.values())
