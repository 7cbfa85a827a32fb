"""A job: a loom, its swaps, what must work, what may be lost, what is on the bench."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field, model_validator

from planner.model.elements import Record, When, as_tuple
from planner.model.loom import PLACE_PATTERN, Colour, Known, Loom, Supply
from planner.model.part import FITTING_PATTERN, Mounting

Appearance = Literal["off", "glows", "dim", "full", "over", "flashes"]


class Swap(Record):
    """One change of part: at a place, into a new place, or a removal (``fit: nothing``)."""

    at: str = Field(pattern=PLACE_PATTERN)
    fit: str = Field(min_length=1, description="id of a part, or nothing")
    zone: str | None = Field(None, description="for a new place")
    mounting: Mounting | None = None
    title: str | None = None
    known: Known | None = None

    def changes(self, loom: Loom) -> bool:
        """Whether anything is to be done: another part, another mounting, a new place or a removal."""
        there = loom.places.get(self.at)
        if there is None:
            return self.fit != "nothing"
        return self.fit != there.part or (self.mounting or there.mounting) != there.mounting


class Wish(Record):
    """A behaviour that must work, or that may be lost."""

    what: str = Field(min_length=1, description="the plain name of what the load does")
    at: Annotated[tuple[str, ...], BeforeValidator(as_tuple)] = Field(
        (), description="places; empty: wherever"
    )
    is_: Appearance = Field("full", alias="is")
    when: When = Field(default_factory=dict)


class StockLead(Record):
    """A finished lead on the bench."""

    colour: Colour
    mm2: float = Field(gt=0, le=120)
    metres: float = Field(gt=0, le=60)
    fittings: tuple[Annotated[str, Field(pattern=FITTING_PATTERN)], ...] = Field(min_length=2, max_length=2)
    count: int = Field(1, ge=1, le=1000)


class StockWire(Record):
    """Lengths of wire on the bench, without fittings: what is left of a reel, or offcuts."""

    colour: Colour
    mm2: float = Field(gt=0, le=120)
    metres: float = Field(gt=0, le=1000)
    count: int = Field(1, ge=1, le=100)


class StockThing(Record):
    """Small things on the bench, so many of a kind."""

    kind: Literal["terminal", "piggyback", "sleeve", "cap", "joiner", "fuse", "label", "part"]
    fitting: str | None = Field(None, pattern=FITTING_PATTERN, description="of a terminal or piggyback")
    mm2: Annotated[tuple[float, ...], BeforeValidator(as_tuple)] = Field(
        (), description="the sizes of wire that a terminal takes; empty: any"
    )
    ways: int | None = Field(None, ge=2, le=20, description="of a joiner: how many wires it takes")
    amps: float | None = Field(None, gt=0, le=500, description="of a fuse: continuous")
    part: str | None = Field(None, min_length=1, description="of a part, such as a relay: its id")
    count: int = Field(1, ge=1, le=10000)

    @model_validator(mode="after")
    def _says_what_its_kind_needs(self) -> "StockThing":
        needs = _STOCK_NEEDS.get(self.kind, ())
        given = [name for name in ("fitting", "mm2", "ways", "amps", "part") if getattr(self, name)]
        may = (*needs, "mm2") if self.kind == "terminal" else needs
        for name in needs:
            if name not in given:
                raise ValueError(f"a {self.kind} in stock needs its {name}")
        for name in given:
            if name not in may:
                raise ValueError(f"a {self.kind} in stock has no {name}")
        return self


_STOCK_NEEDS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "terminal": ("fitting",),
        "piggyback": ("fitting",),
        "joiner": ("ways",),
        "fuse": ("amps",),
        "part": ("part",),
    }
)


class Job(Record):
    """What is to be done to one loom."""

    job: str = Field(pattern=r"^[a-z0-9][a-z0-9.-]{0,60}$")
    title: str | None = None
    reasoning: str | None = Field(None, description="why the expected result is right, for people")
    loom: str
    supply: Supply | None = Field(None, description="the supply afterwards; omitted: as it is")
    swaps: tuple[Swap, ...] = ()
    wants: tuple[Wish, ...] = ()
    accepts: tuple[Wish, ...] = ()
    allow_cutting: bool = False
    stock: tuple[StockLead, ...] = ()
    stock_wire: tuple[StockWire, ...] = Field(
        (), description="wire to cut new wires from; plans do not need it"
    )
    stock_things: tuple[StockThing, ...] = Field(
        (), description="terminals, sleeves, fuses and the like on the bench; plans do not need them"
    )
    minutes: Mapping[str, Annotated[float, Field(ge=0, le=10000)]] = Field(
        default_factory=dict, description="bench minutes by kind of operation, where yours differ"
    )

    def supply_after(self, loom: Loom) -> Supply:
        """The supply of its loom when the work is done."""
        return self.supply or loom.supply
