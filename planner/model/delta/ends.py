"""Operations on the ends of wires, and on the terminals that they sit on."""

from dataclasses import dataclass
from typing import ClassVar

from planner.model.delta.edits import copy_loom, replace_ends, with_wire
from planner.model.delta.operation import Operation
from planner.model.loom import Loom


@dataclass(frozen=True, slots=True)
class Move(Operation):
    """Put an end on a terminal. ``was`` is where it sat before the job, ``before`` where it is now."""

    do: ClassVar[str] = "move"
    wire: str
    end: int
    was: str
    to: str
    before: str = "loose"
    uncovers: bool = False  # the end was covered; its cover comes off

    @property
    def addresses(self) -> tuple[str, ...]:
        """Where the end was and where it goes."""
        return (self.was, self.to)

    @property
    def subject(self) -> tuple[object, ...] | None:
        """The end."""
        return ("end", self.wire, self.end)

    def apply(self, loom: Loom) -> Loom:
        """The loom with the end on its new terminal."""
        cover: dict[str, object] = {"covered": False} if self.uncovers else {}
        return replace_ends(loom, [((self.wire, self.end), {"at": self.to, **cover})])

    def undo(self, loom: Loom) -> Loom:
        """The loom with the end where it was."""
        cover: dict[str, object] = {"covered": True} if self.uncovers else {}
        return replace_ends(loom, [((self.wire, self.end), {"at": self.before, **cover})])


@dataclass(frozen=True, slots=True)
class Hold(Operation):
    """Keep an end off, insulated, until the end it trades places with has moved."""

    do: ClassVar[str] = "hold"
    wire: str
    end: int
    at: str

    @property
    def addresses(self) -> tuple[str, ...]:
        """Where the end is held back from."""
        return (self.at,)

    def apply(self, loom: Loom) -> Loom:
        """The same loom: a hold is over when the work is done."""
        return loom

    def undo(self, loom: Loom) -> Loom:
        """The same loom."""
        return loom


@dataclass(frozen=True, slots=True)
class Cover(Operation):
    """Insulate and tie back a loose end, or cover a bare terminal (``wire`` is then None)."""

    do: ClassVar[str] = "cover"
    at: str
    wire: str | None = None
    end: int | None = None

    @property
    def addresses(self) -> tuple[str, ...]:
        """The terminal, or where the end came from."""
        return (self.at,)

    @property
    def subject(self) -> tuple[object, ...] | None:
        """The end, if it is one that is covered."""
        return None if self.wire is None else ("end", self.wire, self.end)

    def apply(self, loom: Loom) -> Loom:
        """The loom with the end or terminal covered."""
        if self.wire is None or self.end is None:
            return copy_loom(loom, covered=tuple(sorted((*loom.covered, self.at))))
        return replace_ends(loom, [((self.wire, self.end), {"covered": True})])

    def undo(self, loom: Loom) -> Loom:
        """The loom with it bare again."""
        if self.wire is None or self.end is None:
            return copy_loom(loom, covered=tuple(a for a in loom.covered if a != self.at))
        return replace_ends(loom, [((self.wire, self.end), {"covered": False})])


@dataclass(frozen=True, slots=True)
class Cut(Operation):
    """Cut the terminal off an end in the middle of a chain, and join its two legs: the conductor goes on.

    ``was`` is the terminal that the end came from.
    """

    do: ClassVar[str] = "cut"
    wire: str
    end: int
    was: str
    joint: str

    @property
    def addresses(self) -> tuple[str, ...]:
        """Where the end came from."""
        return (self.was,)

    def apply(self, loom: Loom) -> Loom:
        """The loom with a joiner in the place of the end: each leg keeps its colour, size and length."""
        return replace_ends(loom, [((self.wire, self.end), {"at": self.joint})])

    def undo(self, loom: Loom) -> Loom:
        """The loom with the end loose."""
        return replace_ends(loom, [((self.wire, self.end), {"at": "loose"})])


@dataclass(frozen=True, slots=True)
class Join(Operation):
    """Join loose ends in a joiner of their own. ``ends`` is ``(wire, end number, where it sat)``."""

    do: ClassVar[str] = "join"
    ends: tuple[tuple[str, int, str], ...]
    joint: str

    @property
    def addresses(self) -> tuple[str, ...]:
        """Where the ends came from."""
        return tuple(was for _, _, was in self.ends)

    def apply(self, loom: Loom) -> Loom:
        """The loom with the ends joined."""
        return replace_ends(loom, [((w, n), {"at": self.joint}) for w, n, _ in self.ends])

    def undo(self, loom: Loom) -> Loom:
        """The loom with the ends loose."""
        return replace_ends(loom, [((w, n), {"at": "loose"}) for w, n, _ in self.ends])


@dataclass(frozen=True, slots=True)
class Piggyback(Operation):
    """Fit a piggyback push-on terminal, so that the terminal takes one more end."""

    do: ClassVar[str] = "piggyback"
    at: str

    @property
    def addresses(self) -> tuple[str, ...]:
        """The terminal."""
        return (self.at,)

    def apply(self, loom: Loom) -> Loom:
        """The loom with one more tab at the terminal."""
        return copy_loom(loom, piggybacks=tuple(sorted((*loom.piggybacks, self.at))))

    def undo(self, loom: Loom) -> Loom:
        """The loom without that tab."""
        left = list(loom.piggybacks)
        left.reverse()
        left.remove(self.at)
        left.reverse()
        return copy_loom(loom, piggybacks=tuple(left))


@dataclass(frozen=True, slots=True)
class ReEnd(Operation):
    """Crimp another terminal on an end."""

    do: ClassVar[str] = "re-end"
    wire: str
    end: int
    at: str
    fitting: str
    old: str | None

    @property
    def addresses(self) -> tuple[str, ...]:
        """Where the end is."""
        return (self.at,)

    @property
    def subject(self) -> tuple[object, ...] | None:
        """The terminal on the end."""
        return ("fitting", self.wire, self.end)

    def apply(self, loom: Loom) -> Loom:
        """The loom with the new fitting."""
        return replace_ends(loom, [((self.wire, self.end), {"fitting": self.fitting})])

    def undo(self, loom: Loom) -> Loom:
        """The loom with the old fitting."""
        return replace_ends(loom, [((self.wire, self.end), {"fitting": self.old})])


@dataclass(frozen=True, slots=True)
class Extend(Operation):
    """Lengthen a wire at one end, so that it reaches. ``old_metres`` is the length of its legs before."""

    do: ClassVar[str] = "extend"
    wire: str
    end: int
    at: str
    metres: float
    old_spare: float
    old_metres: tuple[float, ...]

    @property
    def addresses(self) -> tuple[str, ...]:
        """Where the end is."""
        return (self.at,)

    def apply(self, loom: Loom) -> Loom:
        """The loom with the longer end: the legs that reach it have more wire, and lose more volts."""
        legs = range(len(loom.find(self.wire).ends) - 1)
        old = self.old_metres if len(self.old_metres) > 1 else self.old_metres * len(legs)
        more = [self.metres if leg in (self.end - 1, self.end) else 0.0 for leg in legs]
        new = tuple(round(metres + by, 6) for metres, by in zip(old, more, strict=True))
        return self._with(loom, new if len(set(new)) > 1 else new[:1], self.old_spare + self.metres)

    def undo(self, loom: Loom) -> Loom:
        """The loom with the end as short as it was."""
        return self._with(loom, self.old_metres, self.old_spare)

    def _with(self, loom: Loom, metres: tuple[float, ...], spare: float) -> Loom:
        longer = with_wire(loom, self.wire, lambda w: w.model_copy(update={"metres": metres}))
        return replace_ends(longer, [((self.wire, self.end), {"spare_metres": spare})])
