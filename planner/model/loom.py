"""A loom: one vehicle, or part of one - places, wires, zones, routes, feeds at its edge."""

from collections.abc import Mapping
from functools import cached_property
from types import MappingProxyType
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BeforeValidator, Field, PrivateAttr, model_validator

from planner.messages import later, tr
from planner.model.doubt import Doubt
from planner.model.elements import NAME_PATTERN, Position, Record, When
from planner.model.part import FITTING_PATTERN, Mounting
from planner.model.vehicle_kind import VehicleKind

Known = Literal["measured", "seen", "drawing", "assumed"]
Pole = Literal["negative", "positive"]
POLE_WORDS: Mapping[Pole, str] = MappingProxyType(
    {"negative": later("negative"), "positive": later("positive")}
)
COLOUR_PATTERN = (
    r"^(GNYE|(BK|BN|RD|OG|YE|GN|BU|VT|GY|WH|PK|GD|TQ|SR)(/(BK|BN|RD|OG|YE|GN|BU|VT|GY|WH|PK|GD|TQ|SR))?)$"
)
Colour = Annotated[
    str, Field(pattern=COLOUR_PATTERN, description="IEC 60757 base, then tracer after a slash")
]
ADDRESS_PATTERN = r"^(unknown|loose|earth(:[^:\s]+)?|feed:[^:\s]+|joint:[^:\s]+|[a-z0-9][^:\s]*:[^:\s][^:]*)$"
Address = Annotated[
    str,
    Field(
        pattern=ADDRESS_PATTERN,
        description="place:terminal, earth, earth:ZONE, feed:NAME, joint:NAME, loose or unknown",
    ),
]
Insulation = Literal["rubber", "pvc", "cross-linked", "silicone"]
USUAL_INSULATION: Insulation = "pvc"  # of cable since about 1950, and of what is sold today; from memory
TABLE_PATTERN = r"^[^/\\:]{1,200}\.([cC][sS][vV]|[tT][sS][vV]|[tT][xX][tT]|[xX][lL][sS][xXmM])$"
PLACE_PATTERN = r"^[a-z0-9][a-z0-9-]*(\.[a-z0-9][a-z0-9-]*)*$"


def _sorted(addresses: tuple[str, ...]) -> tuple[str, ...]:
    """In one order, so that equal looms are equal whatever was done to them first."""
    return tuple(sorted(addresses))


def _listed(value: Any) -> Any:
    return value if isinstance(value, list | tuple) else (value,)


class End(Record):
    """One end of a wire: where it is, how it attaches, how well that is known."""

    at: Address
    fitting: str | None = Field(
        None, pattern=FITTING_PATTERN, description="omitted: fits the terminal it is on"
    )
    known: Known | None = Field(None, description="omitted: as the wire's")
    spare_metres: float = Field(0.05, ge=0, le=10, description="how much further it reaches")
    covered: bool = Field(False, description="insulated and tied back")

    @model_validator(mode="before")
    @classmethod
    def _from_address(cls, value: Any) -> Any:
        return {"at": value} if isinstance(value, str) else value


class Wire(Record):
    """A conductor with two or more ends in order; a daisy chain is one wire."""

    wire: str = Field(pattern=r"^[A-Za-z0-9][A-Za-z0-9.+-]{0,40}$")
    colour: Annotated[tuple[Colour, ...], BeforeValidator(_listed)] = Field(min_length=1)
    mm2: Annotated[tuple[Annotated[float, Field(gt=0, le=120)], ...], BeforeValidator(_listed)] = Field(
        min_length=1
    )
    metres: Annotated[tuple[Annotated[float, Field(gt=0, le=60)], ...], BeforeValidator(_listed)] = Field(
        min_length=1
    )
    ends: tuple[End, ...] = Field(min_length=2)
    bundle: str | None = Field(
        None, pattern=NAME_PATTERN, description="what it is taped or sleeved together with, by any name"
    )
    insulation: Insulation | None = Field(None, description="omitted: as the loom's")
    known: Known = "drawing"
    note: str | None = None

    @model_validator(mode="after")
    def _legs_agree(self) -> "Wire":
        legs = len(self.ends) - 1
        for field in ("colour", "mm2", "metres"):
            given = len(getattr(self, field))
            if given not in (1, legs):
                raise ValueError(
                    f"{field} must be one value or one for each of the {legs} legs, got {given} values"
                )
        return self

    def leg_colour(self, leg: int) -> str:
        """Colour of one leg, counted from 0."""
        return self.colour[leg if len(self.colour) > 1 else 0]

    def leg_mm2(self, leg: int) -> float:
        """Cross-section of one leg in mm2."""
        return self.mm2[leg if len(self.mm2) > 1 else 0]

    def leg_metres(self, leg: int) -> float:
        """Length of one leg in metres."""
        return self.metres[leg if len(self.metres) > 1 else 0]

    def end_colour(self, end: int) -> str:
        """Colour seen at an end: that of the leg that reaches it."""
        return self.leg_colour(max(0, end - 1))

    def end_mm2(self, end: int) -> float:
        """Cross-section at an end in mm2."""
        return self.leg_mm2(max(0, end - 1))

    def areas_at(self, end: int) -> tuple[float, ...]:
        """Cross-sections, in mm2, of what is in the terminal of an end: in the middle of a chain two legs."""
        return tuple(sorted(self.leg_mm2(leg) for leg in self.legs_at(end)))

    def legs_at(self, end: int) -> range:
        """The legs that reach an end: in the middle of a chain two."""
        return range(max(0, end - 1), min(end + 1, len(self.ends) - 1))

    def end_known(self, end: int) -> Known:
        """How well it is known where this end is."""
        return self.ends[end].known or self.known


class Place(Record):
    """Where a part is fitted in one vehicle."""

    part: str
    zone: str
    mounting: Mounting = "metal"
    title: str | None = Field(None, description="plain title for people")
    earth_ohms: float | None = Field(
        None, ge=0, le=1000, description="measured from its mounting to the body; omitted: as usual"
    )
    known: Known = "drawing"
    marks: Mapping[str, str] = Field(
        default_factory=dict,
        description="what the wire list calls terminals, where that is not their mark: {BAT: '30'}",
    )
    _called: Mapping[str, str] = PrivateAttr(default_factory=dict)
    _meanings: Mapping[tuple[str, str], str] = PrivateAttr(default_factory=dict)

    def __hash__(self) -> int:
        """By what is no mapping: so remedies that fit a part can be told apart."""
        return hash((self.part, self.zone, self.mounting, self.title))

    @property
    def called(self) -> Mapping[str, str]:
        """What the loom calls variables of the part, where a swap keeps the names of the old part's."""
        return self._called

    @property
    def meanings(self) -> Mapping[tuple[str, str], str]:
        """What a position stands for that did something under another label on the old part.

        By the part's own name of the control, and the label.
        """
        return self._meanings

    def calling(self, names: Mapping[str, str], meanings: Mapping[tuple[str, str], str]) -> "Place":
        """The same place, in which variables and positions of the part go by other names; no file says so."""
        place = self.model_copy()
        place._called, place._meanings = names, meanings
        return place


class Supply(Record):
    """Nominal supply and which pole is earthed."""

    volts: float = Field(gt=0, le=60, description="nominal volts, such as 6, 12 or 24")
    earthed: Pole = Field(description="the pole that is earthed")

    @property
    def live_volts(self) -> float:
        """Volts of the live pole against earth: negative where the positive pole is earthed."""
        return self.volts if self.earthed == "negative" else -self.volts

    @property
    def words(self) -> str:
        """As people say it: ``6 V, positive earth``."""
        return tr("{volts:g} V, {pole} earth", volts=self.volts, pole=tr(POLE_WORDS[self.earthed]))


class Feed(Record):
    """A feed at the edge of a partial loom; stands for everything behind it."""

    role: str
    when: When = Field(default_factory=dict)
    fuse_amps: float | None = Field(None, gt=0, le=500)
    ohms: float | None = Field(None, gt=0, le=100, description="resistance of what lies behind it, if known")
    known: Known = "drawing"


class Zone(Record):
    """A part of the vehicle."""

    title: str | None = None
    hot: bool = False
    wet: bool = Field(False, description="where rain or spray comes: new crimps and joints there are sealed")
    body: bool = Field(
        True, description="false: of wood or fibreglass, so that nothing is earthed there but by a wire"
    )
    earth_ohms: float | None = Field(
        None,
        ge=0,
        le=1000,
        description="measured from here to where the battery is earthed; omitted: as usual",
    )


class Route(Record):
    """A way a new wire can take between two zones."""

    from_: str = Field(alias="from")
    to: str
    metres: float = Field(gt=0, le=60)
    behind_trim: bool = False


class Loom(Record):
    """One vehicle or part of one."""

    loom: str = Field(pattern=r"^[a-z0-9][a-z0-9.-]{0,60}$")
    title: str | None = None
    note: str | None = None
    kind: VehicleKind = Field(
        "car", description="what it is, for the words of a sheet: whether it has wheels and doors"
    )
    supply: Supply
    conditions: Mapping[str, tuple[Position, ...]] = Field(default_factory=dict)
    feeds: Mapping[Annotated[str, Field(pattern=r"^feed:[^:\s]+$")], Feed] = Field(default_factory=dict)
    zones: Mapping[str, Zone] = Field(default_factory=dict)
    routes: tuple[Route, ...] = ()
    insulation: Insulation | None = Field(
        None, description="of wires that do not say their own; omitted: taken as pvc"
    )
    scheme: Mapping[str, Colour] = Field(default_factory=dict, description="role: colour for a new wire")
    places: Mapping[Annotated[str, Field(pattern=PLACE_PATTERN)], Place] = Field(default_factory=dict)
    wires: tuple[Wire, ...] = ()
    wire_list: str | None = Field(
        None,
        pattern=TABLE_PATTERN,
        description="a table beside this file with more of its wires, such as wires.csv",
    )
    piggybacks: Annotated[tuple[Address, ...], AfterValidator(_sorted)] = Field(
        (), description="terminals with one more tab than the part has"
    )
    covered: Annotated[tuple[Address, ...], AfterValidator(_sorted)] = Field(
        (), description="bare terminals that are covered"
    )
    fuses: Mapping[Address, Annotated[float, Field(gt=0, le=500)]] = Field(
        default_factory=dict,
        description="amps of fuses that are not the part's own, by the fused side; marked continuous",
    )
    not_seen: tuple[str, ...] = Field((), description="what this loom leaves out, for people")
    assumed: tuple[str, ...] = Field(
        (), description="what nobody has read, on which amps and volts rest, for people"
    )
    doubts: tuple[Doubt, ...] = Field(
        (), description="questions about this description; take one out once it is settled"
    )

    @cached_property
    def wire_index(self) -> Mapping[str, int]:
        """Where each wire stands in ``wires``."""
        return {wire.wire: index for index, wire in enumerate(self.wires)}

    @cached_property
    def ends_at(self) -> Mapping[str, tuple[tuple[str, int], ...]]:
        """``(wire, end number)`` of every end, by address, in order."""
        found: dict[str, list[tuple[str, int]]] = {}
        for wire in self.wires:
            for number, end in enumerate(wire.ends):
                found.setdefault(end.at, []).append((wire.wire, number))
        return {address: tuple(ends) for address, ends in found.items()}

    @cached_property
    def ends_by_place(self) -> Mapping[str, tuple[tuple[str, int, str], ...]]:
        """``(wire, end number, terminal)`` of every end at a place, in the order of the wires."""
        found: dict[str, list[tuple[str, int, str]]] = {}
        for wire in self.wires:
            for number, end in enumerate(wire.ends):
                place, colon, terminal = end.at.partition(":")
                if colon:
                    found.setdefault(place, []).append((wire.wire, number, terminal))
        return {place: tuple(ends) for place, ends in found.items()}

    @cached_property
    def conductors(self) -> dict[str, tuple[str, ...]]:
        """What wires join to an address, as far as ``planner.model.reach`` has been asked."""
        return {}

    @cached_property
    def reached(self) -> dict[int, tuple[object, dict[object, Any]]]:
        """The loads beyond an address, by the catalogue, as far as ``planner.model.reach`` has been asked."""
        return {}

    @cached_property
    def bundles(self) -> Mapping[str, tuple[str, ...]]:
        """The wires that lie together, by the name of their bundle."""
        found: dict[str, list[str]] = {}
        for wire in self.wires:
            if wire.bundle is not None:
                found.setdefault(wire.bundle, []).append(wire.wire)
        return {name: tuple(wires) for name, wires in found.items()}

    def find(self, wire: str) -> Wire:
        """The wire of that id."""
        return self.wires[self.wire_index[wire]]

    def end_address(self, wire: str, number: int) -> str | None:
        """Where an end of a wire is; None if this loom has no such wire or end."""
        ends = self.find(wire).ends if wire in self.wire_index else ()
        return ends[number].at if number < len(ends) else None

    def place_title(self, place: str) -> str:
        """What people call a place."""
        known = self.places.get(place)
        return (known.title if known else None) or place

    def ends_of_place(self, place: str) -> tuple[tuple[str, int, str], ...]:
        """``(wire, end number, terminal)`` for each end at a place, in the order of the wires."""
        return self.ends_by_place.get(place, ())


def split_address(address: str) -> tuple[str, str]:
    """Split ``place:terminal`` (also ``earth:zone``, ``feed:name``); a bare word has an empty second half."""
    place, _, terminal = address.partition(":")
    return place, terminal
