"""A job: a loom, its swaps, what must work, what may be lost, what is on the bench."""

from collections.abc import Mapping
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

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
    minutes: Mapping[str, Annotated[float, Field(ge=0, le=10000)]] = Field(
        default_factory=dict, description="bench minutes by kind of operation, where yours differ"
    )

    def supply_after(self, loom: Loom) -> Supply:
        """The supply of its loom when the work is done."""
        return self.supply or loom.supply
