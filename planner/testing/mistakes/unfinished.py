"""Steps that were left half done: nothing put in line, a cut end not joined, an old fitting, a bare end."""

from collections.abc import Iterator

from planner.currents.grid import BODY, Gated, Grid
from planner.currents.laws import Resistance
from planner.currents.solver import Branch
from planner.messages import tr
from planner.model.catalogue import Catalogue
from planner.model.delta import Cover, Cut, Insert, ReEnd, last_words
from planner.model.joiners import STUD_RING
from planner.model.loom import split_address
from planner.testing.mistakes.conductors import BARE_OHMS, poor_changes
from planner.testing.mistakes.mistake import Change, EndAt, Mistake
from planner.testing.mistakes.priors import weight
from planner.testing.mistakes.room import Room
from planner.testing.wired import Wired


class Unfinished:
    """The steps of one work that look done and are not."""

    def __init__(self, wired: Wired, grid: Grid, catalogue: Catalogue) -> None:
        self.wired, self.loom, self.room = wired, wired.loom, Room(wired, catalogue)
        self.legs = {g.branch.name[1:]: g.branch for g in grid.branches if g.kind == "wire"}

    def every(self) -> Iterator[Mistake]:
        """Yield them all, in the order of the steps."""
        for step in last_words(self.wired.steps):
            operation = step.operation
            if isinstance(operation, Insert):
                yield from self._not_inserted(operation)
            elif isinstance(operation, Cut):
                yield from self._not_joined(operation)
            elif isinstance(operation, ReEnd):
                yield from self._old_fitting(operation)
            elif isinstance(operation, Cover) and self._hangs_loose(operation):
                yield from self._not_covered(operation)
                yield from self._put_on(operation)

    def _not_inserted(self, insert: Insert) -> Iterator[Mistake]:
        """Yield a part in line that was left out: the end is still where it was."""
        end = (insert.wire, insert.end)
        if self.loom.end_address(*end) == f"{insert.at}:{insert.enters}":
            yield Mistake(
                f"{insert.at}-not-inserted",
                "step forgotten",
                tr(
                    "the {part} was left out: {wire} is straight on {was}",
                    part=self.wired.title_of(insert.at),
                    wire=self.wired.wire(*end),
                    was=self.wired.at(insert.was),
                ),
                weight("step forgotten", touched=True),
                (insert.was,),
                (Change(ends=(EndAt(*end, insert.was),), gone=(("wire", insert.lead.wire),)),),
            )

    def _not_joined(self, cut: Cut) -> Iterator[Mistake]:
        """Yield a conductor that was cut, and whose two legs were not joined."""
        leg = (cut.wire, str(cut.end))
        if self.loom.end_address(cut.wire, cut.end) == cut.joint and leg in self.legs:
            yield Mistake(
                f"{cut.wire}.{cut.end}-not-joined",
                "step forgotten",
                tr(
                    "{wire} was cut off {was}, and its two ends were not joined",
                    wire=self.wired.wire(cut.wire, cut.end),
                    was=self.wired.at(cut.was),
                ),
                weight("step forgotten", touched=True),
                (cut.joint,),
                (Change(gone=(("wire", *leg),)),),
            )

    def _old_fitting(self, crimp: ReEnd) -> Iterator[Mistake]:
        """Yield an end whose terminal does not hold, its old one or badly crimped: of unknown ohms."""
        at = self.loom.end_address(crimp.wire, crimp.end)
        leg = self.legs.get((crimp.wire, str(max(0, crimp.end - 1))))
        if leg is not None and at is not None and at not in ("loose", "unknown"):
            yield Mistake(
                f"{crimp.wire}.{crimp.end}-old-fitting",
                "step forgotten",
                tr(
                    "{wire} has a poor joint at {at}: badly crimped, or still the old terminal",
                    wire=self.wired.wire(crimp.wire, crimp.end),
                    at=self.wired.at(at),
                ),
                weight("step forgotten", touched=True),
                (at,),
                poor_changes(leg),
            )
            if crimp.fitting == STUD_RING:
                yield from self._legs_of(crimp, at)

    def _legs_of(self, crimp: ReEnd, at: str) -> Iterator[Mistake]:
        """Yield each wire of an end in a chain off its stud: there each has a ring of its own."""
        ends = self.loom.find(crimp.wire).ends
        for far in (crimp.end - 1, crimp.end + 1) if 0 < crimp.end < len(ends) - 1 else ():
            leg = str(min(far, crimp.end))
            yield Mistake(
                f"{crimp.wire}.{crimp.end}-leg-{leg}-off",
                "step forgotten",
                tr(
                    "{wire} to {far} is off {at}",
                    wire=self.wired.wire(crimp.wire, crimp.end),
                    far=self.wired.at(ends[far].at),
                    at=self.wired.at(at),
                ),
                weight("step forgotten", touched=True, ways=2),
                (at,),
                (Change(gone=(("wire", crimp.wire, leg),)),),
            )

    def _hangs_loose(self, cover: Cover) -> bool:
        """Whether a step covers an end, and not a bare terminal, that is still loose."""
        wire, end = cover.wire, cover.end
        return wire is not None and end is not None and self.loom.end_address(wire, end) == "loose"

    def _put_on(self, cover: Cover) -> Iterator[Mistake]:
        """Yield a loose end that was put on a terminal of the part where it hangs."""
        place, _ = split_address(cover.at)
        if cover.wire is None or cover.end is None or place not in self.loom.places:
            return
        marks = [
            mark
            for mark, terminal in self.room.part(place).terminals.items()
            if self.room.has_room(f"{place}:{mark}", terminal, piggybacks=1)
        ]
        for mark in marks:
            there = f"{place}:{mark}"
            yield Mistake(
                f"{cover.wire}.{cover.end}-on-{there}",
                "wrong terminal",
                tr(
                    "{wire} is on {there}, and should hang loose, insulated",
                    wire=self.wired.wire(cover.wire, cover.end),
                    there=self.wired.at(there),
                ),
                weight("wrong terminal", touched=True, ways=len(marks)),
                (there,),
                (Change(ends=(EndAt(cover.wire, cover.end, there),)),),
            )

    def _not_covered(self, cover: Cover) -> Iterator[Mistake]:
        """Yield a loose end that touches the body, not insulated; one that is earthed harms nothing."""
        if cover.wire is None or cover.end is None:
            return
        node = f"end:{cover.wire}:{cover.end}"
        ends = [end.at for end in self.loom.find(cover.wire).ends]
        if not any(split_address(at)[0] == "earth" for at in ends):
            short = Branch(("short", cover.wire, f"end {cover.end}"), node, BODY, Resistance(BARE_OHMS))
            yield Mistake(
                f"{cover.wire}.{cover.end}-bare",
                "step forgotten",
                tr(
                    "the loose end of {wire}, which came from {at}, was not insulated and touches the body",
                    wire=self.wired.wire(cover.wire, cover.end),
                    at=self.wired.at(cover.at),
                ),
                weight("step forgotten", touched=True),
                (node,),
                (Change(added=(Gated(short, ()),)),),
            )
