"""Operations on whole wires: one is run, made, or laid anew."""

from dataclasses import dataclass
from typing import ClassVar

from planner.model.delta.edits import copy_loom, with_wire
from planner.model.delta.operation import Operation
from planner.model.loom import Loom, Wire


@dataclass(frozen=True, slots=True)
class Add(Operation):
    """Run a new wire; until a ``Make`` settles how it is made, its size, colour and length are nominal."""

    do: ClassVar[str] = "add"
    wire: Wire
    role: str | None
    tagged: bool = False  # a bridge that is to come out again

    @property
    def addresses(self) -> tuple[str, ...]:
        """Where the wire runs."""
        return tuple(end.at for end in self.wire.ends)

    def apply(self, loom: Loom) -> Loom:
        """The loom with the new wire."""
        changed = copy_loom(loom, wires=(*loom.wires, self.wire))
        at = dict(loom.ends_at)
        for number, end in enumerate(self.wire.ends):
            at[end.at] = (*at.get(end.at, ()), (self.wire.wire, number))
        index = {**loom.wire_index, self.wire.wire: len(loom.wires)}
        changed.__dict__.update(wire_index=index, ends_at=at)
        return changed

    def undo(self, loom: Loom) -> Loom:
        """The loom without it."""
        return copy_loom(loom, wires=tuple(w for w in loom.wires if w.wire != self.wire.wire))


@dataclass(frozen=True, slots=True)
class Make(Operation):
    """Settle how a new wire is made: colour, size, length, fittings; from stock if ``lead`` is given."""

    do: ClassVar[str] = "make"
    wire: Wire
    nominal: Wire
    lead: int | None = None  # index into the job's stock

    @property
    def addresses(self) -> tuple[str, ...]:
        """Where the wire runs."""
        return tuple(end.at for end in self.wire.ends)

    def apply(self, loom: Loom) -> Loom:
        """The loom with the wire as made."""
        return with_wire(loom, self.wire.wire, lambda _: self.wire)

    def undo(self, loom: Loom) -> Loom:
        """The loom with the nominal wire."""
        return with_wire(loom, self.wire.wire, lambda _: self.nominal)


@dataclass(frozen=True, slots=True)
class Renew(Operation):
    """Lay a thicker wire in place of an old one, or of some legs of it, on the same terminals.

    The legs from end ``first`` to end ``last`` are laid anew in ``mm2``, colour and fittings as they were;
    the old wire is drawn out or tied back. ``old`` is the size of each leg of the wire before.
    """

    do: ClassVar[str] = "renew"
    wire: str
    first: int
    last: int
    mm2: float
    old: tuple[float, ...]
    ends: tuple[str, str]

    @property
    def addresses(self) -> tuple[str, ...]:
        """Where the new wire runs."""
        return self.ends

    @property
    def subject(self) -> tuple[object, ...] | None:
        """The legs."""
        return ("legs", self.wire, self.first, self.last)

    def apply(self, loom: Loom) -> Loom:
        """The loom with the thicker wire."""
        legs = len(loom.find(self.wire).ends) - 1
        old = self.old if len(self.old) == legs else self.old * legs
        new = (*old[: self.first], *(self.mm2,) * (self.last - self.first), *old[self.last :])
        mm2 = new if len(set(new)) > 1 else new[:1]
        return with_wire(loom, self.wire, lambda w: w.model_copy(update={"mm2": mm2}))

    def undo(self, loom: Loom) -> Loom:
        """The loom with the old wire."""
        return with_wire(loom, self.wire, lambda w: w.model_copy(update={"mm2": self.old}))
