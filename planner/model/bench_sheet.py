"""The sheet that is taken to the vehicle: the plan's steps by place, what is needed, and how to go back.

Plain records, with nothing left to compute; lengths are in metres, the words are for people.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from planner.model.fuses import Marked
from planner.model.loom import Loom
from planner.model.meter_page import AsBuilt, MeterPage
from planner.model.page_states import PageStates
from planner.model.part import Part
from planner.model.picture import Picture
from planner.model.plan import Plan, PlanStep

NO_STEP = 0  # of what is needed when the steps are done, or on the way back
FIRST_POWER_WATTS = 21  # of the lamp in series: a short lights it fully, and few amps pass
MaterialKind = Literal[
    "part",
    "with-part",
    "wire",
    "lead",
    "terminal",
    "piggyback",
    "sleeve",
    "boot",
    "conduit",
    "wrapping",
    "cap",
    "joiner",
    "fuse",
    "clip",
    "grommet",
    "cord",
    "tool",
    "label",
]


@dataclass(frozen=True, slots=True)
class Visit:
    """What is done at one place before one goes on; ``steps`` are numbers of the work list."""

    place: str
    title: str
    zone: str  # title of the part of the vehicle
    steps: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Demand:
    """One step that must come before another, and why in a few words."""

    first: int
    then: int
    why: str


@dataclass(frozen=True, slots=True)
class MadeEnd:
    """One end of a new wire: where it goes, and what goes on it there."""

    at: str  # place and mark in words
    terminal: str  # in words
    sleeves: tuple[str, ...]  # in words; they go on before the terminal is crimped
    label: str
    step: int  # at which its terminal goes on
    is_crimped: bool  # false: it stays bare, or is a finished lead's
    is_shared: bool = False  # it goes into the terminal of the leg before


@dataclass(frozen=True, slots=True)
class MadeWire:
    """How one new wire is made."""

    wire: str
    colour: str  # code
    mm2: float
    size: str  # mm2 and AWG in words
    metres: float  # as it lies
    cut_metres: float  # as it is cut, allowance included
    ends: tuple[MadeEnd, ...]
    from_stock: bool  # a finished lead: nothing to cut or crimp
    step: int
    is_pulled: bool = False  # behind trim: its ends are crimped when it is through


@dataclass(frozen=True, slots=True)
class Use:
    """What one step needs of a material, and how much of that is on hand."""

    step: int
    amount: float = 1
    on_hand: float = 0


@dataclass(frozen=True, slots=True)
class Material:
    """One line of what is needed, step by step; ``unit`` is m or pieces."""

    kind: MaterialKind
    what: str
    unit: Literal["m", "pieces"]
    uses: tuple[Use, ...]
    note: str = ""

    @property
    def amount(self) -> float:
        """What is needed in all."""
        return round(sum(use.amount for use in self.uses), 3)

    @property
    def on_hand(self) -> float:
        """What of it is on hand."""
        return round(sum(use.on_hand for use in self.uses), 3)

    @property
    def to_buy(self) -> float:
        """What is not on hand."""
        return round(max(0.0, self.amount - self.on_hand), 3)

    @property
    def steps(self) -> tuple[int, ...]:
        """The steps that need it, each once."""
        return tuple(sorted({use.step for use in self.uses} - {NO_STEP}))


@dataclass(frozen=True, slots=True)
class Cut:
    """One stock length and the pieces cut from it, by wire and metres."""

    stock_metres: float
    pieces: tuple[tuple[str, float], ...]
    is_done: bool = False

    @property
    def left_metres(self) -> float:
        """What is left of it."""
        return round(self.stock_metres - sum(metres for _, metres in self.pieces), 3)


@dataclass(frozen=True, slots=True)
class CuttingPlan:
    """What is cut from what, of one colour and size."""

    colour: str
    mm2: float
    cuts: tuple[Cut, ...]
    to_buy: tuple[tuple[str, float], ...]  # pieces for which no length of the stock is left
    left_at_least: float  # metres: no plan that cuts as much from the stock leaves less of what it opens
    is_proven: bool
    size: str = ""  # mm2 and AWG in words

    @property
    def left_metres(self) -> float:
        """What is left of all the lengths that are cut."""
        return round(sum(cut.left_metres for cut in self.cuts), 3)


@dataclass(frozen=True, slots=True)
class Label:
    """What stands on the strip at one end of a wire."""

    wire: str
    colour: str  # in words
    at: str  # place and mark in words
    step: int = 0  # the one before which it goes on
    note: str = ""  # what else must be known: tied back, stays live

    @property
    def text(self) -> str:
        """The label in one line."""
        which = f"{self.wire} {self.colour}" if self.colour else self.wire
        return f"{which}: {self.at}" + (f" ({self.note})" if self.note else "")


@dataclass(frozen=True, slots=True)
class UndoLine:
    """How one step is taken back."""

    step: int
    text: str
    cannot: str = ""  # what does not come back as it was
    ends: tuple[str, ...] = ()  # those that its text ends with, each on its terminal


@dataclass(frozen=True, slots=True)
class FedLoad:
    """A load behind a fuse, and how the lamp in series appears while it is switched on.

    ``lamp`` is off, glows, dim, full or over; empty where that is not foretold.
    """

    key: tuple[str, str]  # place, and what it does
    text: str
    lamp: str = ""


@dataclass(frozen=True, slots=True)
class FuseTest:
    """One fuse of the loom after, and what has to work once it is in.

    ``lamp`` is how the lamp in series appears with that fuse in and everything at rest.
    """

    at: str
    text: str
    amps: float
    loads: tuple[FedLoad, ...]
    marked: Marked = "continuous"  # what the amps mean
    lamp: str = ""
    with_fuses: tuple[str, ...] = ()  # those before it, which have to be in as well
    unshown: tuple[str, ...] = ()  # feeds that it needs too and whose own fuse the loom does not show
    read_first: tuple[str, ...] = ()  # what comes first where something would be destroyed


@dataclass(frozen=True, slots=True)
class LeftOff:
    """A part that must not be live when the battery goes on."""

    place: str
    ends: tuple[str, ...]  # that come off it, in words: the wire and its terminal
    why: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Polarised:
    """A dynamo that is told which way to charge, and how, in words."""

    title: str
    how: str


@dataclass(frozen=True, slots=True)
class Charging:
    """What is done and read with the engine, where the work touched what charges the battery."""

    generators: tuple[str, ...]  # titles
    polarised: tuple[Polarised, ...]
    polarised_back: tuple[Polarised, ...]  # those that are told so once the work is taken back
    low_volts: float  # across the battery, engine at a fast idle
    high_volts: float
    ammeters: tuple[str, ...]  # titles of those in series


@dataclass(frozen=True, slots=True)
class Interlock:
    """A starter that must not crank in every setting."""

    starter: str  # title
    when: str  # it may, in words
    conditions: tuple[str, ...]  # that hinder it, by name


@dataclass(frozen=True, slots=True)
class CrankTrial:
    """A starter that hands alone let in."""

    starter: str  # title
    when: str  # it cranks, in words
    controls: tuple[str, ...]  # titles of those that have a say in it
    is_all: bool  # every one of them has to be set so
    read_at: tuple[str, ...] = ()  # what those of them that are new give on to the starter, by address


@dataclass(frozen=True, slots=True)
class EngineTrial:
    """What is tried with the engine, where the work touched what starts or fires it."""

    cranked: tuple[CrankTrial, ...]
    sparks: bool  # something of the ignition, or of its feed, was exchanged
    timed: tuple[str, ...]  # titles of the distributors that were out
    oiled: tuple[str, ...] = ()  # titles of what was screwed into the engine's oil way
    oil_shown: tuple[str, ...] = ()  # titles of what shows its pressure, where the work touched that
    oil_blind: tuple[str, ...] = ()  # titles of gauges on a mere switch, and no warning lamp


@dataclass(frozen=True, slots=True)
class BenchSheet:
    """Everything a person takes to the vehicle."""

    plan: Plan
    visits: tuple[Visit, ...]
    changes: int  # of place
    changes_at_least: int  # that no order can do without
    is_shortest: bool
    demands: tuple[Demand, ...]
    making: tuple[MadeWire, ...]
    materials: tuple[Material, ...]
    cutting: tuple[CuttingPlan, ...]
    labels: tuple[Label, ...]
    undo: tuple[UndoLine, ...]
    exchanged: tuple[str, ...]
    tied_back: tuple[str, ...]
    links_added: tuple[str, ...]
    fittings_changed: tuple[str, ...]
    fuses: tuple[FuseTest, ...]
    leads: tuple[str, ...]  # how it is read, the battery off, that what crossed leads harm has them right
    polarity: tuple[str, ...]  # how it is read which way round the vehicle is, before any fuse
    left_off: tuple[LeftOff, ...]  # before first power
    settled_first: tuple[str, ...]  # what else has to be settled before that
    charging: Charging | None
    earthed_post: str  # which post of the battery is earthed while the work begins: minus or plus
    earthed_post_after: str
    before: Loom
    after: Loom
    parts: Mapping[str, Part]  # those of both looms and others, by id
    wire_names: Mapping[str, str]  # what the sheet calls a new wire, by its id in the loom after
    called: str = ""  # the job as a command line names it; empty for the built-in demonstration
    shrunk_last: tuple[int, ...] = ()  # steps with a joiner in the wet that stays open for the meter's tips
    interlocks: tuple[Interlock, ...] = ()
    engine: EngineTrial | None = None
    done: tuple[int, ...] = ()  # steps that are ticked
    taken_back: tuple[UndoLine, ...] = ()  # ticked steps of an earlier plan that this one has not
    mends: tuple[str, ...] = ()  # what broke, or was found broken
    warnings: tuple[str, ...] = ()  # about what is ticked
    meter: MeterPage | None = None  # what is measured afterwards
    as_built: AsBuilt | None = None  # the fewest readings that prove it; worked out for who asks
    pictures: tuple[Picture, ...] = ()
    states: PageStates | None = None  # of the live picture, for the form that shows it

    def step(self, number: int) -> PlanStep:
        """A step by its number."""
        return self.plan.steps[number - 1]
