"""What is inside a part: contacts, loads, coils and everything else that changes.

In a file an element is a mapping with one key, its kind: ``- lamp: {between: [58, "31"], watts: 5}``.
Everything that changes is a *variable*: a control, a coil's armature, a step, a cam, a flasher's beat.
A contact is closed when every variable named in its ``when`` has one of the named values.
"""

from collections.abc import Mapping
from typing import Annotated, Any, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Discriminator, Field, model_validator

from planner.model.fuses import Marked

NAME_PATTERN = r"^[^\s:/][^:/]{0,78}$"
Name = Annotated[str, Field(pattern=NAME_PATTERN, description="a name local to its place, no colon or slash")]
TerminalName = Annotated[str, Field(min_length=1, max_length=40, pattern=r"^[^:\s][^:]*$")]
Pair = tuple[TerminalName, TerminalName]
BETWEEN = "what it sits between"
DOES = "plain name of what it is for"
WATTS = "power at its rated volts"
VOLTS = "rated volts, if not the part's"
Duty = Literal["head", "tail", "stop", "signal", "hazard", "horn", "wiper", "none"]
ROAD_DUTIES = ("head", "tail", "stop", "signal", "hazard")  # lamps that others on the road go by


def as_tuple(value: Any) -> Any:
    """One text as a list of one, for fields that may be several."""
    return (value,) if isinstance(value, str) else value


Labels = Annotated[tuple[str, ...], BeforeValidator(as_tuple), Field(min_length=1)]
When = Annotated[
    Mapping[str, Labels],
    Field(description="variable: value or list of values; every variable must have one of its values"),
]


class Record(BaseModel):
    """The base of every model: frozen, and no unknown key passes."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Position(Record):
    """One detent of a control: the label on the knob and what it means."""

    label: str = Field(min_length=1, max_length=60, description="what is printed at the detent")
    meaning: str = Field(
        min_length=1, max_length=60, description="what the detent is for; compared between parts"
    )

    @model_validator(mode="before")
    @classmethod
    def _from_short_form(cls, value: Any) -> Any:
        if isinstance(value, str):
            return {"label": value, "meaning": value}
        if isinstance(value, Mapping) and len(value) == 1 and not {"label", "meaning"} & set(value):
            ((label, meaning),) = value.items()
            return {"label": label, "meaning": meaning}
        return value


class Control(Record):
    """Something a person moves; the first position is its rest."""

    element: Literal["control"]
    name: Name
    positions: tuple[Position, ...] = Field(
        min_length=2, description="label, or {label: meaning}, rest first"
    )
    returns: str | None = Field(None, description="label a spring-back lever returns to; omitted if it stays")
    runs_out: bool = Field(
        False, description="nobody moves it back: it goes to its first position by itself, as a delay does"
    )


class Contact(Record):
    """Joins terminals while every variable in ``when`` has one of the named values."""

    element: Literal["contact"]
    join: tuple[TerminalName, ...] = Field(min_length=2, description="terminals joined while closed")
    when: When = Field(default_factory=dict)
    amps: float | None = Field(None, gt=0, le=1000, description="rated current")
    ohms: float | None = Field(
        None, ge=0, le=1000, description="resistance while closed; 0 is an exact joint"
    )
    overlaps: bool = Field(False, description="makes before the neighbouring position breaks")


class _Load(Record):
    between: Pair = Field(description=BETWEEN)
    does: str | None = Field(None, min_length=1, max_length=60, description=DOES)
    duty: Duty = Field("none", description="which road function it serves, if any")


class Lamp(_Load):
    """A filament lamp; with ideal joints a constant resistance at its rated point."""

    element: Literal["lamp"]
    does: str = Field(min_length=1, max_length=60, description=DOES)
    watts: float = Field(gt=0, le=500, description=WATTS)
    volts: float | None = Field(None, gt=0, le=60, description=VOLTS)
    category: str | None = Field(None, description="UN Regulation No. 37 category")


class Winding(_Load):
    """A motor, magnet or horn winding."""

    element: Literal["winding"]
    does: str = Field(min_length=1, max_length=60, description=DOES)
    watts: float = Field(gt=0, le=5000, description=WATTS)
    volts: float | None = Field(None, gt=0, le=60, description=VOLTS)
    stalled_amps: float | None = Field(
        None, gt=0, le=2000, description="current at its rated volts while it is held still"
    )


class Resistor(_Load):
    """A resistor or heating element; with ``does`` its heat is what it is for."""

    element: Literal["resistor"]
    ohms: float = Field(gt=0, le=1e7, description="its resistance")
    watts: float | None = Field(None, gt=0, le=5000, description="rated dissipation")
    when: When = Field(default_factory=dict, description="in circuit only then (a dimmer's steps)")


class Coil(_Load):
    """A relay coil; ``name`` is its armature, with the states released and pulled."""

    element: Literal["coil"]
    ohms: float = Field(gt=0, le=1e6, description="resistance of the winding")
    pulls_in_v: float = Field(gt=0, le=60, description="least volts at which it pulls in")
    drops_out_v: float = Field(gt=0, le=60, description="volts below which it drops out")
    name: Name

    @property
    def is_in_series(self) -> bool:
        """Whether it pulls in on the current of what it is in line with: it takes next to no volts."""
        return self.ohms < MOST_OHMS_IN_SERIES and self.pulls_in_v < MOST_VOLTS_IN_SERIES

    @model_validator(mode="after")
    def _hysteresis(self) -> "Coil":
        if self.drops_out_v > self.pulls_in_v:
            raise ValueError(
                f"drops_out_v must not exceed pulls_in_v ({self.pulls_in_v:g}), got {self.drops_out_v:g}"
            )
        return self


class Step(Record):
    """A ratchet that goes to its next state each time its armature pulls in."""

    element: Literal["step"]
    name: Name
    states: tuple[str, ...] = Field(min_length=2, description="in the order in which they follow, rest first")
    stepped_by: Name


class Cam(Record):
    """Turned through its states, round and round, while one of the named loads of its part runs."""

    element: Literal["cam"]
    name: Name
    states: tuple[str, ...] = Field(min_length=2, description="the first is where it should come to rest")
    turned_by: Annotated[tuple[str, ...], BeforeValidator(as_tuple)] = Field(
        min_length=1, description="what the loads that turn it are for"
    )


class Flasher(_Load):
    """Interrupts the current between its terminals; states are always rest, light, dark."""

    element: Literal["flasher"]
    kind: Literal["thermal", "electronic"] = Field(description="how it beats")
    needs_amps: float = Field(gt=0, le=50, description="least current at which it beats")
    most_amps: float | None = Field(None, gt=0, le=50, description="most current it switches for good")
    heater_ohms: float | None = Field(None, gt=0, le=1000, description="thermal only: resistance at rest")
    name: Name
    states: tuple[Literal["rest"], Literal["light"], Literal["dark"]] = Field(
        ("rest", "light", "dark"), description="always these three"
    )
    supply: Pair | None = Field(None, description="electronic only: terminals that must carry the supply")


class Diode(Record):
    """A diode, anode first; one without drop stands for the contact of a cut-out, the generator first."""

    element: Literal["diode"]
    between: Pair = Field(description=f"{BETWEEN}, anode first")
    drop_v: float = Field(0.7, ge=0, le=5, description="volts it takes while it conducts")
    amps: float | None = Field(None, gt=0, le=500, description="rated current")

    @property
    def is_cut_out(self) -> bool:
        """Whether it stands for a contact that opens when current would flow back, whichever pole is live."""
        return self.drop_v == 0.0


class Led(_Load):
    """A light-emitting lamp with its resistor, anode first; dark when reversed."""

    element: Literal["led"]
    does: str = Field(min_length=1, max_length=60, description=DOES)
    watts: float = Field(gt=0, le=200, description=WATTS)
    volts: float | None = Field(None, gt=0, le=60, description=VOLTS)
    drop_v: float = Field(2.0, ge=0, le=20, description="volts it takes before its resistor")


class Fuse(Record):
    """A fuse between two terminals."""

    element: Literal["fuse"]
    between: Pair = Field(description=BETWEEN)
    amps: float = Field(gt=0, le=500, description="the amps printed on it")
    marked: Marked = Field("continuous", description="what the printed amps mean")


class Source(Record):
    """A battery, or a generator while it is driven; live pole first."""

    element: Literal["source"]
    between: Pair = Field(description=f"{BETWEEN}, live pole first")
    volts: float = Field(gt=0, le=60, description="its nominal volts")
    open_v: float | None = Field(
        None, gt=0, le=60, description="volts without load: full battery, or what the regulator holds"
    )
    ohms: float | None = Field(None, gt=0, le=100, description="its own resistance")
    most_amps: float | None = Field(None, gt=0, le=1000, description="most current a generator gives")
    amp_hours: float | None = Field(None, gt=0, le=1000, description="charge of a full battery")
    when: When = Field(default_factory=dict)


class Sender(Record):
    """A resistance that follows a condition of the vehicle."""

    element: Literal["sender"]
    between: Pair = Field(description=BETWEEN)
    follows: str = Field(min_length=1, description="the loom's condition it follows")
    ohms: Mapping[str, Annotated[float, Field(gt=0, le=1e6)]] = Field(
        min_length=1, description="resistance at each value of what it follows"
    )


class Stabiliser(Record):
    """A voltage stabiliser for instruments: holds its output, the second of ``between``, at its volts.

    Without its earth it holds nothing: what comes in goes out.
    """

    element: Literal["stabiliser"]
    between: Pair = Field(description=f"{BETWEEN}, its input first")
    earth: TerminalName = Field(description="the terminal or node that has to be earthed")
    volts: float = Field(10, gt=0, le=60, description="volts that it holds at its output")


MOST_VOLTS_IN_SERIES = 0.5  # a coil that pulls in on less is in line; common practice, no source
MOST_OHMS_IN_SERIES = 1.0  # an instrument with less is in line with what it shows


class Gauge(_Load):
    """An instrument whose pointer follows the current through it."""

    element: Literal["gauge"]
    does: str = Field(min_length=1, max_length=60, description=DOES)
    ohms: float = Field(gt=0, le=1e6, description="its resistance")
    full_scale_amps: float = Field(gt=0, le=200, description="current at full deflection")
    volts: float | None = Field(
        None, gt=0, le=60, description="volts it is fed with, if not the part's: behind a stabiliser"
    )
    marks: Mapping[str, Annotated[float, Field(ge=0, le=1)]] = Field(
        default_factory=dict,
        description="share of the scale at which its face shows each value of what the sender follows",
    )

    @property
    def is_in_series(self) -> bool:
        """Whether it is an ammeter: what lies behind it is live all the same."""
        return self.ohms < MOST_OHMS_IN_SERIES


def _unwrap(value: Any) -> Any:
    """Turn the file's ``{kind: {...}}`` into a mapping that names its kind."""
    if isinstance(value, Mapping) and len(value) == 1:
        ((kind, body),) = value.items()
        if isinstance(body, Mapping):
            return {"element": kind, **body}
    return value


SPARK = "ignition spark"  # what an ignition coil does: without it no engine runs
EndUser = Lamp | Winding | Led | Gauge | Resistor
Load = Lamp | Winding | Resistor | Coil | Flasher | Led | Gauge
AnyElement = (
    Control
    | Contact
    | Lamp
    | Winding
    | Resistor
    | Coil
    | Step
    | Cam
    | Flasher
    | Diode
    | Led
    | Fuse
    | Source
    | Sender
    | Stabiliser
    | Gauge
)
Element = Annotated[AnyElement, Discriminator("element")]
WrappedElement = Annotated[Element, BeforeValidator(_unwrap)]
ARMATURE_STATES = ("released", "pulled")
