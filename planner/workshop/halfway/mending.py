"""What broke or was found cut: what is there now and what replaces it, in the order in which one comes by it.

A step that is left may replace it anyway; then that is said, and nothing else is to be done about it.
"""

from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet

from planner.messages import tr
from planner.model.bench_sheet import BenchSheet
from planner.model.delta import Cut, ReEnd
from planner.model.joiners import BARE
from planner.model.loom import Wire
from planner.model.measures import length_words
from planner.model.ticks import BrokenEnd, CutWire, Found, OtherPart
from planner.model.wording import colour_words, small
from planner.problems import Problem
from planner.workshop.ends.names import Names, end_words
from planner.workshop.halfway.so_far import SoFar


def wrongly_found(names: Names, found: Sequence[Found]) -> Iterator[Problem]:
    """Yield what cannot have been found: a wire or an end that this vehicle has not."""
    for one in found:
        if isinstance(one, OtherPart):
            continue
        wire = _wire(names, one)
        if wire is None:
            yield Problem(one.place, f"this vehicle has no wire {one.wire!r}")
        elif isinstance(one, BrokenEnd) and _end(names, wire, one.at) is None:
            hint = f"one of {', '.join(end.at for end in wire.ends)}"
            yield Problem(one.place, f"{one.wire} has no end at {one.at!r}", hint=hint)


def other_parts(names: Names, found: Sequence[Found]) -> tuple[str, ...]:
    """What is fitted in place of what was planned; ``names`` are those of the first plan."""
    parts = names.catalogue.parts
    return tuple(
        tr(
            "{place}: {part} is there in place of {planned}; the steps below are for it",
            place=names.after.place_title(one.at),
            part=small(parts[one.part].title),
            planned=small(parts[names.after.places[one.at].part].title),
        )
        for one in found
        if isinstance(one, OtherPart) and one.at in names.after.places
    )


class Mending:
    """What is mended in a vehicle of which some steps are done.

    ``said`` are the names by which it was found, those of the sheet that was ticked; ``names`` those of the
    sheet that is made now.
    """

    def __init__(self, said: Names, names: Names, sheet: BenchSheet, ids: AbstractSet[str]) -> None:
        self.said, self.names = said, names
        done = {step.n for step in sheet.plan.steps if step.id in ids}
        self.so_far = SoFar(names, done)
        self._order = list(dict.fromkeys(step.place for step in sheet.plan.steps if step.n not in done))

    def lines(self, found: Sequence[Found]) -> tuple[str, ...]:
        """What has to be mended, in the order in which one comes by it."""
        mends = [self._mend(one) for one in found if not isinstance(one, OtherPart)]
        return tuple(words for _, words in sorted(mends, key=lambda mend: mend[0]))

    def _mend(self, one: BrokenEnd | CutWire) -> tuple[int, str]:
        """When one comes by, and what is to be done."""
        wire = _wire(self.said, one)
        assert wire is not None
        if (
            wire.wire
            not in (self.names.after if wire.wire in self.said.new_wires else self.names.before).wire_index
        ):
            return len(self._order), tr("{wire}: these steps do without it", wire=one.wire)
        if isinstance(one, CutWire):
            ends = range(len(wire.ends))
            return min(self._turn(wire, end) for end in ends), self._cut(wire)
        end = _end(self.said, wire, one.at)
        assert end is not None
        return self._turn(wire, end), self._broken(wire, end)

    def _turn(self, wire: Wire, end: int) -> int:
        """When one comes by an end: where it is now or goes, if one still goes there; else last."""
        places = {self.names.work.places.of(at) for at in self.so_far.addresses(wire.wire, end)}
        return min((n for n, place in enumerate(self._order) if place in places), default=len(self._order))

    def _broken(self, wire: Wire, end: int) -> str:
        return tr(
            "Broken terminal: {wire}, now {where}, had {fitting}: {remedy}",
            wire=self.names.named(wire.wire, end),
            where=self.so_far.where(wire.wire, end),
            fitting=end_words(self.so_far.fitting(wire.wire, end)),
            remedy=self._crimped_by_a_step(wire, end) or self._crimp(wire, end),
        )

    def _crimped_by_a_step(self, wire: Wire, end: int) -> str:
        """That a step cuts the terminal off anyway; empty if none does."""
        for number, task in self.so_far.left():
            operation = task.operation
            if isinstance(operation, ReEnd | Cut) and (operation.wire, operation.end) == (wire.wire, end):
                if isinstance(operation, Cut) or operation.fitting == BARE:
                    return tr("step {n} cuts it off anyway", n=number)
                return tr("step {n} crimps {end} on anyway", n=number, end=end_words(operation.fitting))
        step = self.so_far.laid_anew_in(wire.wire, (end,))
        return tr("step {n} lays the wire anew anyway", n=step) if step else ""

    def _crimp(self, wire: Wire, end: int) -> str:
        goal = self.names.wire(wire.wire).ends[end]
        return tr(
            "crimp {end} on it, for {at}; if it no longer reaches, lengthen it",
            end=end_words(goal.fitting or self.names.usual_end(goal.at)),
            at=self.names.at(goal.at),
        )

    def _cut(self, wire: Wire) -> str:
        last = len(wire.ends) - 1
        one, other = (self.so_far.where(wire.wire, end) for end in (0, last))
        step = self.so_far.laid_anew_in(wire.wire, (0, last))
        remedy = tr("step {n} lays it anew anyway", n=step) if step else self._lay(self.names.wire(wire.wire))
        return tr(
            "Wire found cut: {wire}, now one end {one}, the other {other}: {remedy}",
            wire=self.names.named(wire.wire, 0),
            one=one,
            other=other,
            remedy=remedy,
        )

    def _lay(self, wire: Wire) -> str:
        names = self.names
        legs = [(wire.leg_colour(n), wire.leg_mm2(n), wire.leg_metres(n)) for n in range(len(wire.ends) - 1)]
        pieces = ", ".join(
            f"{colour_words(colour)} {names.size(mm2)} {length_words(metres)}" for colour, mm2, metres in legs
        )
        ends = tr(" and ").join(
            tr("{end} for {at}", end=end_words(end.fitting or names.usual_end(end.at)), at=names.at(end.at))
            for end in wire.ends
        )
        return tr("lay it anew, {pieces}, with {ends}", pieces=pieces, ends=ends)


def _wire(names: Names, one: BrokenEnd | CutWire) -> Wire | None:
    """The wire that was found broken, by its name on the sheet or its own."""
    every = (*names.after.wires, *names.before.wires)
    return next((wire for wire in every if one.wire in (wire.wire, names.shown(wire.wire))), None)


def _end(names: Names, wire: Wire, at: str) -> int | None:
    """The end of a wire that is at an address before the work or after it."""
    looms = [loom for loom in (names.before, names.after) if wire.wire in loom.wire_index]
    return next(
        (n for n in range(len(wire.ends)) if at in {loom.end_address(wire.wire, n) for loom in looms}), None
    )
