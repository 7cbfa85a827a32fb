"""What goes wrong with the steps of a work list: one forgotten, one done twice, the old part fitted."""

from collections.abc import Iterator

from planner.messages import tr
from planner.model.catalogue import Catalogue
from planner.model.delta import Add, Fit, Join, Move, last_words
from planner.model.elements import Control
from planner.model.loom import split_address
from planner.model.part import Part
from planner.model.polarity import is_turned_round
from planner.testing.mistakes.mistake import Change, EndAt, Mistake
from planner.testing.mistakes.priors import weight
from planner.testing.wired import Wired


class Steps:
    """The mistakes that can be made with the steps of one work."""

    def __init__(self, wired: Wired, catalogue: Catalogue) -> None:
        self.wired, self.loom, self.catalogue = wired, wired.loom, catalogue
        self.steps = [step.operation for step in last_words(wired.steps)]

    def every(self) -> Iterator[Mistake]:
        """Yield them all, in the order of the steps."""
        moves = [o for o in self.steps if isinstance(o, Move) and self._is_as_it_should_be(o)]
        for move in moves:
            yield from self._forgotten(move)
            yield from self._twice(move, moves)
        for operation in self.steps:
            if isinstance(operation, Add) and operation.wire.wire in self.loom.wire_index:
                yield self._not_made(operation.wire.wire)
            elif isinstance(operation, Join):
                yield from self._not_joined(operation)
            elif isinstance(operation, Fit):
                yield from self._old_part(operation)

    def _is_as_it_should_be(self, move: Move) -> bool:
        """Whether an end is where a move put it: it may have been changed once more.

        A wire that the plan adds is made as it is in the end, so of its ends none is moved.
        """
        is_old = self.wired.before is None or move.wire in self.wired.before.wire_index
        return is_old and self.loom.end_address(move.wire, move.end) == move.to

    def _is_there(self, address: str) -> bool:
        place, mark = split_address(address)
        known = self.loom.places.get(place)
        return address in self.loom.ends_at or (
            known is not None and mark in self.catalogue.parts[known.part].terminals
        )

    def _forgotten(self, move: Move) -> Iterator[Mistake]:
        """Yield an end that was left where it was; where that is gone, it hangs loose."""
        at = move.was if self._is_there(move.was) else "loose"
        if at == move.to or move.was == "loose":
            return
        moved = {"wire": self.wired.wire(move.wire, move.end), "to": self.wired.at(move.to)}
        if at == "loose":
            words = tr("{wire} was not moved to {to}: it hangs loose", **moved)
        else:
            was = self.wired.at(move.was)
            words = tr("{wire} was not moved to {to}: it is still on {was}", was=was, **moved)
        yield Mistake(
            f"{move.wire}.{move.end}-not-moved",
            "step forgotten",
            words,
            weight("step forgotten", touched=True),
            (move.to, at),
            (Change(ends=(EndAt(move.wire, move.end, at),)),),
        )

    def _twice(self, move: Move, moves: list[Move]) -> Iterator[Mistake]:
        """Yield an end moved on once more, by the step that was for what was on its new terminal before."""
        for other in moves:
            if other.was == move.to and other.to != move.to:
                yield Mistake(
                    f"{move.wire}.{move.end}-moved-twice",
                    "step twice",
                    tr(
                        "{wire} was moved on to {to}",
                        wire=self.wired.wire(move.wire, move.end),
                        to=self.wired.at(other.to),
                    ),
                    weight("step twice", touched=True),
                    (move.to, other.to),
                    (Change(ends=(EndAt(move.wire, move.end, other.to),)),),
                )

    def _not_made(self, wire: str) -> Mistake:
        ends = tuple(end.at for end in self.loom.find(wire).ends)
        return Mistake(
            f"{wire}-not-made",
            "step forgotten",
            tr(
                "{wire} was forgotten: {one} to {other}",
                wire=self.wired.wire(wire),
                one=self.wired.at(ends[0]),
                other=self.wired.at(ends[-1]),
            ),
            weight("step forgotten", touched=True),
            ends,
            (Change(gone=(("wire", wire),)),),
        )

    def _not_joined(self, join: Join) -> Iterator[Mistake]:
        for wire, number, _ in join.ends:
            if self.loom.end_address(wire, number) == join.joint:
                yield Mistake(
                    f"{wire}.{number}-not-joined",
                    "step forgotten",
                    tr("{wire} was not joined to the others", wire=self.wired.wire(wire, number)),
                    weight("step forgotten", touched=True),
                    (join.joint,),
                    (Change(ends=(EndAt(wire, number, "loose"),)),),
                )

    def _old_part(self, fit: Fit) -> Iterator[Mistake]:
        """Yield the part that was there before, if it takes the same wires and nobody sees the difference."""
        before, now = self.wired.before, self.loom.places.get(fit.at)
        if before is None or now is None or fit.at not in before.places:
            return
        old = before.places[fit.at].part
        parts = self.catalogue.parts[old], self.catalogue.parts[now.part]
        if old != now.part and self._passes_for(*parts) and not is_turned_round(*parts):
            yield Mistake(
                f"{fit.at}-old-part",
                "old part",
                tr("the old {place} is still fitted, or one like it", place=self.wired.title_of(fit.at)),
                weight("old part", touched=True),
                (fit.at,),
                (Change(fits=((fit.at, old),)),),
            )

    def _passes_for(self, old: Part, new: Part) -> bool:
        """Whether a part has every terminal and every knob, with its detents, that the other has."""
        knobs = [
            {e.name: tuple(p.label for p in e.positions) for e in part.inside if isinstance(e, Control)}
            for part in (old, new)
        ]
        return set(old.terminals) >= set(new.terminals) and knobs[0] == knobs[1]
