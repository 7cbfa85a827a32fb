"""Operations on what is fitted: parts, what is put in line, fuses, and the supply itself."""

from dataclasses import dataclass
from typing import ClassVar

from planner.model.delta.edits import copy_loom, replace_ends
from planner.model.delta.operation import Operation
from planner.model.loom import Loom, Place, Supply, Wire


@dataclass(frozen=True, slots=True)
class Remove(Operation):
    """Take a part out; its ends hang loose. ``ends`` is ``(wire, end number, terminal)``."""

    do: ClassVar[str] = "remove"
    at: str
    place: Place
    ends: tuple[tuple[str, int, str], ...]
    piggybacks: tuple[str, ...] = ()
    covered: tuple[str, ...] = ()
    fuses: tuple[tuple[str, float], ...] = ()  # put in before; they go with the part

    @property
    def addresses(self) -> tuple[str, ...]:
        """The place of the part."""
        return (self.at,)

    def apply(self, loom: Loom) -> Loom:
        """The loom without the part."""
        loom = replace_ends(loom, [((w, n), {"at": "loose"}) for w, n, _ in self.ends])
        places = {k: v for k, v in loom.places.items() if k != self.at}
        return copy_loom(
            loom,
            places=places,
            piggybacks=tuple(a for a in loom.piggybacks if a not in self.piggybacks),
            covered=tuple(a for a in loom.covered if a not in self.covered),
            fuses={at: amps for at, amps in loom.fuses.items() if (at, amps) not in self.fuses},
        )

    def undo(self, loom: Loom) -> Loom:
        """The loom with the part back and its ends on their terminals."""
        loom = replace_ends(loom, [((w, n), {"at": f"{self.at}:{t}"}) for w, n, t in self.ends])
        return copy_loom(
            loom,
            places={**loom.places, self.at: self.place},
            piggybacks=tuple(sorted(loom.piggybacks + self.piggybacks)),
            covered=tuple(sorted(loom.covered + self.covered)),
            fuses={**loom.fuses, **dict(self.fuses)},
        )


@dataclass(frozen=True, slots=True)
class Fit(Operation):
    """Put a part in at a place. ``over`` is what is there already and gives up its place with no end moved:
    the same part mounted otherwise, or its like with the same terminals.
    """

    do: ClassVar[str] = "fit"
    at: str
    place: Place
    over: Place | None = None

    @property
    def addresses(self) -> tuple[str, ...]:
        """The place of the part."""
        return (self.at,)

    @property
    def subject(self) -> tuple[object, ...] | None:
        """The part."""
        return ("part", self.at)

    def apply(self, loom: Loom) -> Loom:
        """The loom with the part fitted; the only ends on it are those that were on what it goes over."""
        return copy_loom(loom, places={**loom.places, self.at: self.place})

    def undo(self, loom: Loom) -> Loom:
        """The loom without the part, or with what was there."""
        if self.over is not None:
            return copy_loom(loom, places={**loom.places, self.at: self.over})
        return copy_loom(loom, places={k: v for k, v in loom.places.items() if k != self.at})


@dataclass(frozen=True, slots=True)
class Insert(Operation):
    """Put a two-terminal part between an end and the terminal it is on, with a short lead.

    The end goes to ``place:enters``; ``lead`` runs from ``place:leaves`` to where the end was.
    """

    do: ClassVar[str] = "insert"
    wire: str
    end: int
    was: str
    at: str
    place: Place
    enters: str
    lead: Wire

    @property
    def addresses(self) -> tuple[str, ...]:
        """Where the end was; the part in line brings its own."""
        return (self.was,)

    def apply(self, loom: Loom) -> Loom:
        """The loom with the part in line."""
        loom = replace_ends(loom, [((self.wire, self.end), {"at": f"{self.at}:{self.enters}"})])
        return copy_loom(loom, places={**loom.places, self.at: self.place}, wires=(*loom.wires, self.lead))

    def undo(self, loom: Loom) -> Loom:
        """The loom without it."""
        loom = replace_ends(loom, [((self.wire, self.end), {"at": self.was})])
        return copy_loom(
            loom,
            places={k: v for k, v in loom.places.items() if k != self.at},
            wires=tuple(w for w in loom.wires if w.wire != self.lead.wire),
        )


@dataclass(frozen=True, slots=True)
class ChangeFuse(Operation):
    """Put another fuse in. ``at`` is its fused side, ``old`` what was put in there before, if anything.

    ``amps`` is a continuous rating; ``printed`` what stands on the fuse that comes out, None if none does.
    """

    do: ClassVar[str] = "fuse"
    at: str
    amps: float
    printed: float | None
    old: float | None = None

    @property
    def addresses(self) -> tuple[str, ...]:
        """The fused side of the fuse."""
        return (self.at,)

    @property
    def subject(self) -> tuple[object, ...] | None:
        """The fuse."""
        return ("fuse", self.at)

    def apply(self, loom: Loom) -> Loom:
        """The loom with the other fuse."""
        return copy_loom(loom, fuses={**loom.fuses, self.at: self.amps})

    def undo(self, loom: Loom) -> Loom:
        """The loom with the fuse that was in before."""
        others = {at: amps for at, amps in loom.fuses.items() if at != self.at}
        return copy_loom(loom, fuses=others if self.old is None else {**others, self.at: self.old})


@dataclass(frozen=True, slots=True)
class ChangeSupply(Operation):
    """Change the vehicle's supply: its volts, the pole that is earthed, or both."""

    do: ClassVar[str] = "supply"
    supply: Supply
    old: Supply

    @property
    def addresses(self) -> tuple[str, ...]:
        """Nowhere in particular: what it means for the battery is a step of its own."""
        return ()

    def apply(self, loom: Loom) -> Loom:
        """The loom at its new supply."""
        return copy_loom(loom, supply=self.supply)

    def undo(self, loom: Loom) -> Loom:
        """The loom at its old supply."""
        return copy_loom(loom, supply=self.old)
