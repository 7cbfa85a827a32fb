"""A strain: a current, voltage or reading of the electrical view that is held against a limit."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

StrainKind = Literal[
    "wire",  # a wire carries more than it stands for good
    "fuse-over-wire",  # a fuse lets more through than the wire behind it stands
    "fuse",  # a fuse carries more than it does for good
    "tab",  # a push-on terminal carries more than it was tested with
    "contact",  # a contact switches more than its rating allows for that kind of load
    "not-charging",  # a generator's current does not reach the battery
    "opposed",  # a source of more volts drives its current backwards through another
    "generator",  # more is asked than the generator gives
    "resistor",  # a resistor burns more than it is made for
    "diode",  # a diode carries more than it is rated
    "coil",  # a relay does not get the volts it pulls in at
    "drop",  # a circuit loses more volts than it should
    "earth",  # a way to earth loses more volts than it should
    "over-voltage",  # a load gets more than it lives with
    "overheats",  # a motor, magnet, coil or apparatus gets so much for good that its winding burns
    "under-voltage",  # a load made for more volts gets too few to work
    "reversed",  # a part that has a direction gets its current the wrong way round
    "polarity",  # a part is made for the other pole earthed
    "flasher-starved",  # too little current for a flasher to beat
    "flasher-overloaded",  # more current than a flasher switches for good
    "gauge",  # an instrument shows something else than its sender means
    "sneak",  # a load that should be off takes current by way of another
    "drain",  # current with everything at rest
    "unsettled",  # a network for which no operating point was found
]
DANGEROUS: frozenset[StrainKind] = frozenset(
    ("wire", "fuse-over-wire", "resistor", "diode", "opposed", "overheats", "polarity", "unsettled")
)

# What no vehicle can be left with: it burns something, or the battery runs flat and the lamps go out.
INTOLERABLE: frozenset[StrainKind] = DANGEROUS | {"not-charging"}

# What wears sooner, dims or is slow; past HOT_FROM a push-on terminal gets hot as well.
WEARING: frozenset[StrainKind] = frozenset(("drop", "earth", "tab", "contact", "generator", "drain"))

# A push-on terminal that passes so much of what it is tested with gets hot: heat goes with the square of the
# current, so it is more than half as much again. Common practice, no source.
HOT_FROM = 1.25

# A contact that passes so much of its whole rating, whatever the kind of load, does not only wear: it fails.
# Ratings are round, so up to a tenth over one is told alone. Common practice, no source.
FAILS_FROM = 1.1

# What was over its limit before is laid to the work if it grew by more than three twentieths, which is less
# than from one size of fuse to the next. Common practice, no source.
WORSE = 1.15


@dataclass(frozen=True, slots=True)
class Brought:
    """What one leg of a wire brings a terminal."""

    wire: str
    leg: int
    amps: float


@dataclass(frozen=True, slots=True)
class Strain:
    """One value against its limit.

    ``at`` is an address, a place, or a wire's id; ``loads`` are those whose current it is, as (place, what);
    ``position`` names the controls that are not at rest. ``is_least`` says that the value must not be less
    than the limit, as against not more. ``path`` is the way of the current, terminal by terminal from the
    live pole, where it tells something.
    """

    kind: StrainKind
    at: str
    value: float
    limit: float
    unit: str
    source: str
    basis: str
    position: Mapping[str, str]
    loads: tuple[tuple[str, str], ...] = ()
    leg: int | None = None  # of a wire
    path: tuple[str, ...] = ()
    duty: str = "none"
    is_least: bool = False
    note: str = ""  # what the value is of, where the kind does not say it
    momentary: bool = False  # only while a lever or button is held
    loaded: int = 1  # wires in its bundle that warm one another, for a wire
    carries: float | None = None  # A that the loads ask of a fuse over a wire, for good
    ends: tuple[tuple[str, int], ...] = ()  # those on a tab: by them it is known on another part
    most_in: Brought | None = None  # of several wires on a tab the one with most
    rated: float | None = None  # A of a contact, before it is divided for the kind of load

    @property
    def use(self) -> float:
        """How much of what is allowed is used; more than 1 is too much."""
        if self.is_least:
            return self.limit / self.value if self.value > 0 else float("inf")
        return self.value / self.limit if self.limit > 0 else float("inf") if self.value > 0 else 0.0

    @property
    def is_over(self) -> bool:
        """Whether the limit is passed."""
        return self.use > 1.0

    @property
    def is_past_rating(self) -> bool:
        """Whether a contact passes more than it is rated for with the lightest kind of load."""
        return self.rated is not None and self.value > FAILS_FROM * self.rated

    @property
    def gets_hot(self) -> bool:
        """Whether it is a push-on terminal that passes far more than it is tested with."""
        return self.kind == "tab" and self.use > HOT_FROM

    @property
    def is_wearing(self) -> bool:
        """Whether it wears sooner, dims, is slow or gets hot, and all works as before."""
        return self.kind in WEARING and not self.is_past_rating

    @property
    def on_any_part(self) -> tuple[str, str, int | None]:
        """What makes strains of two looms the same where another part is between; else its identity.

        A tab is known by the ends on it, a contact by its place and the loads that it switches.
        """
        if self.kind == "contact" and self.loads:
            place = self.at.partition(":")[0]
            return (self.kind, " ".join((place, *(f"{at}/{what}" for at, what in sorted(self.loads)))), None)
        return (self.kind, " ".join(f"{w}.{n}" for w, n in self.ends), None) if self.ends else self.identity

    @property
    def identity(self) -> tuple[str, str, int | None]:
        """What makes strains of two looms the same."""
        named = self.loads and self.kind in ("drop", "over-voltage", "overheats", "sneak", "coil", "gauge")
        return (self.kind, f"{self.at} {self.loads[0][1]}" if named else self.at, self.leg)
