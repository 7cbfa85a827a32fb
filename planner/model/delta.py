"""Operations: what is done to a loom, one at a time; each can apply and undo itself.

An operation is a frozen record. ``apply`` gives the loom after it, ``undo`` the loom before it;
applying and undoing in reverse order restores the loom exactly.
"""

from abc import ABC, abstractmethod
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import ClassVar

from planner.model.loom import End, Loom, Place, Supply, Wire

EndRef = tuple[str, int]  # wire id, end number


def _with_wire(loom: Loom, wire: str, change: Callable[[Wire], Wire]) -> Loom:
    index = loom.wire_index[wire]
    wires = (*loom.wires[:index], change(loom.wires[index]), *loom.wires[index + 1 :])
    return copy_loom(loom, wires=wires)


# Cached properties of a loom that follow from which wires there are and where their ends are.
_TABLES = ("wire_index", "ends_at", "ends_by_place", "conductors", "bundles")


def copy_loom(loom: Loom, /, **changes: object) -> Loom:
    """A loom with some fields replaced; nothing is validated again.

    The look-up tables of wires are carried over unless the wires change.
    """
    changed = loom.model_copy(update=changes)
    changed.__dict__.pop("reached", None)  # it depends on wires, places and fuses
    if "wires" in changes:
        for name in _TABLES:
            changed.__dict__.pop(name, None)
    return changed


def with_end(wire: Wire, number: int, **changes: object) -> Wire:
    """A wire with one end changed."""
    end = wire.ends[number].model_copy(update=changes)
    return wire.model_copy(update={"ends": (*wire.ends[:number], end, *wire.ends[number + 1 :])})


def _replace_ends(loom: Loom, ends: Sequence[tuple[EndRef, dict[str, object]]]) -> Loom:
    """A loom with some ends changed; its look-up tables are carried over, since only a few entries differ."""
    wires, index, at = list(loom.wires), loom.wire_index, dict(loom.ends_at)
    is_moved = False
    for (wire, number), changes in ends:
        place = index[wire]
        old = wires[place].ends[number].at
        wires[place] = with_end(wires[place], number, **changes)
        new = wires[place].ends[number].at
        if new != old:
            is_moved = True
            left = tuple(end for end in at[old] if end != (wire, number))
            at[old] = left
            if not left:
                del at[old]
            at[new] = tuple(
                sorted((*at.get(new, ()), (wire, number)), key=lambda end: (index[end[0]], end[1]))
            )
    changed = copy_loom(loom, wires=tuple(wires))
    kept = () if is_moved else _TABLES
    changed.__dict__.update({name: loom.__dict__[name] for name in kept if name in loom.__dict__})
    changed.__dict__.update(wire_index=index, ends_at=at)
    return changed


@dataclass(frozen=True, slots=True)
class Operation(ABC):
    """The base of all operations; ``do`` is its word on the work list."""

    do: ClassVar[str] = ""

    @property
    @abstractmethod
    def addresses(self) -> tuple[str, ...]:
        """The places and terminals it works at, where its wire comes from first."""

    @property
    def subject(self) -> tuple[object, ...] | None:
        """What it has the last word on, if a later operation can take it back."""
        return None

    @abstractmethod
    def apply(self, loom: Loom) -> Loom:
        """The loom after this operation."""

    @abstractmethod
    def undo(self, loom: Loom) -> Loom:
        """The loom before this operation."""


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
        loom = _replace_ends(loom, [((w, n), {"at": "loose"}) for w, n, _ in self.ends])
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
        loom = _replace_ends(loom, [((w, n), {"at": f"{self.at}:{t}"}) for w, n, t in self.ends])
        return copy_loom(
            loom,
            places={**loom.places, self.at: self.place},
            piggybacks=tuple(sorted(loom.piggybacks + self.piggybacks)),
            covered=tuple(sorted(loom.covered + self.covered)),
            fuses={**loom.fuses, **dict(self.fuses)},
        )


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
        return _replace_ends(loom, [((self.wire, self.end), {"at": self.to, **cover})])

    def undo(self, loom: Loom) -> Loom:
        """The loom with the end where it was."""
        cover: dict[str, object] = {"covered": True} if self.uncovers else {}
        return _replace_ends(loom, [((self.wire, self.end), {"at": self.before, **cover})])


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
        return _with_wire(loom, self.wire.wire, lambda _: self.wire)

    def undo(self, loom: Loom) -> Loom:
        """The loom with the nominal wire."""
        return _with_wire(loom, self.wire.wire, lambda _: self.nominal)


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
        return _replace_ends(loom, [((self.wire, self.end), {"covered": True})])

    def undo(self, loom: Loom) -> Loom:
        """The loom with it bare again."""
        if self.wire is None or self.end is None:
            return copy_loom(loom, covered=tuple(a for a in loom.covered if a != self.at))
        return _replace_ends(loom, [((self.wire, self.end), {"covered": False})])


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
        return _replace_ends(loom, [((self.wire, self.end), {"at": self.joint})])

    def undo(self, loom: Loom) -> Loom:
        """The loom with the end loose."""
        return _replace_ends(loom, [((self.wire, self.end), {"at": "loose"})])


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
        return _replace_ends(loom, [((w, n), {"at": self.joint}) for w, n, _ in self.ends])

    def undo(self, loom: Loom) -> Loom:
        """The loom with the ends loose."""
        return _replace_ends(loom, [((w, n), {"at": "loose"}) for w, n, _ in self.ends])


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
        return _replace_ends(loom, [((self.wire, self.end), {"fitting": self.fitting})])

    def undo(self, loom: Loom) -> Loom:
        """The loom with the old fitting."""
        return _replace_ends(loom, [((self.wire, self.end), {"fitting": self.old})])


@dataclass(frozen=True, slots=True)
class Extend(Operation):
    """Lengthen a wire at one end, so that it reaches."""

    do: ClassVar[str] = "extend"
    wire: str
    end: int
    at: str
    metres: float
    old_spare: float

    @property
    def addresses(self) -> tuple[str, ...]:
        """Where the end is."""
        return (self.at,)

    def apply(self, loom: Loom) -> Loom:
        """The loom with the longer end."""
        return _replace_ends(loom, [((self.wire, self.end), {"spare_metres": self.old_spare + self.metres})])

    def undo(self, loom: Loom) -> Loom:
        """The loom with the end as short as it was."""
        return _replace_ends(loom, [((self.wire, self.end), {"spare_metres": self.old_spare})])


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
        loom = _replace_ends(loom, [((self.wire, self.end), {"at": f"{self.at}:{self.enters}"})])
        return copy_loom(loom, places={**loom.places, self.at: self.place}, wires=(*loom.wires, self.lead))

    def undo(self, loom: Loom) -> Loom:
        """The loom without it."""
        loom = _replace_ends(loom, [((self.wire, self.end), {"at": self.was})])
        return copy_loom(
            loom,
            places={k: v for k, v in loom.places.items() if k != self.at},
            wires=tuple(w for w in loom.wires if w.wire != self.lead.wire),
        )


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
        return _with_wire(loom, self.wire, lambda w: w.model_copy(update={"mm2": mm2}))

    def undo(self, loom: Loom) -> Loom:
        """The loom with the old wire."""
        return _with_wire(loom, self.wire, lambda w: w.model_copy(update={"mm2": self.old}))


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


def operation_words() -> frozenset[str]:
    """The word of every operation."""
    return frozenset(operation.do for operation in Operation.__subclasses__())


@dataclass(frozen=True, slots=True)
class Reason:
    """Why an operation is there: the rule, the facts it fired on, and the source it leans on."""

    rule: str
    facts: tuple[str, ...]
    source: str = "common practice, no source"
    leans_on: tuple[EndRef, ...] = ()  # ends whose weight this operation depends on


@dataclass(frozen=True, slots=True)
class Step:
    """One operation of a plan with its reason."""

    operation: Operation
    why: Reason
    minutes: float = 0.0


def last_words(steps: Sequence[Step]) -> list[Step]:
    """The steps without those that a later one makes void: an end moved again, a part fitted otherwise."""
    subjects = [step.operation.subject or index for index, step in enumerate(steps)]
    last = {subject: index for index, subject in enumerate(subjects)}
    return [step for index, step in enumerate(steps) if last[subjects[index]] == index]


def new_end(at: str, fitting: str | None) -> End:
    """An end of a wire that is made for the job: measured, because the restorer makes it."""
    return End.model_construct(at=at, fitting=fitting, known="measured", spare_metres=0.1, covered=False)
