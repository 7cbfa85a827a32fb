"""Which loads meet in a branch, and so what to look for: where they take most, and where volts are dragged.

The numbers are those of the first view, in which joints are ideal: they only rank positions, and they do not
change with a wire's length.

The *way* of a load is the share of its current that each branch carries, in one *row* (setting) of its
table. The loads that come through a branch are a *meeting*, of several a *crowd*; branches in series have
the same one. The *head* of a load there is the row in which it brings most. Others *drag* a load's volts
down by what they take through the ohms that its way shares with theirs; least of all they *relieve* it.
*Parts* of the loom ask no variable in common, so each is searched by itself. What is *wanted* of a part is
numbers to add up, under a name: equal names have to mean equal sums, for by them what was found is found
again in another loom.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cached_property

from planner.circuit.fitted import LoadKey
from planner.currents.met import Brings, Brought, Head, Met
from planner.currents.positions import Positions
from planner.currents.seek import Want, Wanted
from planner.currents.shared_ohms import Ohms, SharedOhms
from planner.currents.solver import Branch
from planner.currents.sums import Row
from planner.currents.tracing import Flow
from planner.currents.weighed import Only, Weighed, only

SLOPE = 0.75  # by how much of itself a load's current falls with its volts: filaments 0.55, windings 1


class Meetings:
    """What meets where in one loom."""

    def __init__(
        self, positions: Positions, branches: Sequence[Branch], like: "Meetings | None" = None
    ) -> None:
        self.positions, self.branches, self.like = positions, branches, like
        self.ways: dict[LoadKey, dict[Row, Mapping[int, float]]] = {}
        self._brought: list[tuple[LoadKey, Row, Brought]] = []
        self._far: dict[Ohms, Wanted] = {}
        self._own: dict[tuple[LoadKey, Row], Brings] = {}

    def follow(self, key: LoadKey, row: Row, flow: Flow, load: int) -> None:
        """Note which way a load's current takes in one row of its table; ``load`` is its branch."""
        self.ways.setdefault(key, {})[row] = flow.shares(load)
        self._brought.append((key, row, flow.brought(load, self.positions.loads[key].rows[row])))

    @cached_property
    def _met(self) -> Met:
        positions, like = self.positions, self.like
        if like and like._brought == self._brought and like.positions.kind == positions.kind:
            return like._met
        brought = tuple(self._brought)
        kind = (positions.kind, brought)
        known = positions.found.met.get(kind)
        if known is None:
            known = Met(positions.loads, positions.parts, brought, positions.found.meetings)
            positions.found.met[kind] = known
        return known

    @cached_property
    def _ohms(self) -> SharedOhms:
        return SharedOhms(self._met, self.ways, self.branches, self.like._ohms if self.like else None)

    def crowded(self) -> Iterator[int]:
        """Yield the number of each meeting of several loads; one alone needs no search."""
        for number, meeting in self._met.meetings.items():
            if len(meeting) > 1:
                yield number

    def met_in(self, branches: Iterable[int]) -> tuple[int, ...]:
        """The numbers of the meetings in some branches, each once."""
        numbers = {self._met.of_branch[b] for b in branches if b in self._met.of_branch}
        return tuple(sorted(numbers, key=self._met.rank.__getitem__))

    def name_of(self, number: int) -> object:
        """A name for what is to be most in a crowd; equal for equal sums where all loads are alike.

        What a load alone drags its own volts down by is no part of it: that says nothing of where others take
        most, and with it a longer wire to one lamp would have every search made again.
        """
        ways = [self._ohms.coarse(key, row) for key, row, _ in self._met.heads[number]]
        return ("crowd", number, *ways)

    def crowd(self, number: int) -> Wanted:
        """What the loads of a meeting bring, less what every load takes from them by dragging volts down."""
        met = self._met
        heads: dict[int, list[Head]] = {}
        weights: dict[int, float] = {}  # by meeting: how much all loads of this one mind an ampere there
        for head in met.heads[number]:
            heads.setdefault(met.places[head.key][0], []).append(head)
            minds = self._minds(head)
            for other, ohms in self._ohms.coarse(head.key, head.row):
                weights[other] = weights.get(other, 0.0) + minds * ohms
        asked = sorted(self.positions.parts.restless | met.brings[number].keys())
        weighing: dict[int, list[tuple[int, float]]] = {part: [] for part in asked}
        for other, weight in weights.items():
            brought = met.brings[other]
            for part in asked if len(asked) < len(brought) else brought:
                if part in weighing and part in brought:
                    weighing[part].append((other, weight))
        wanted: Wanted = {}
        for part, weighed in weighing.items():
            own = heads.get(part, ())
            # What the loads bring is said by the meeting's number.
            ways = tuple([self._ohms.coarse(head.key, head.row) for head in own])
            name = self._number_of("crowd", number, tuple(weighed), ways)
            dragged = [(self._on_itself(head.key, head.row), self._minds(head)) for head in own]
            lost = [(other, -weight) for other, weight in weighed]
            wanted[part,] = (name, Weighed(met, part, ((number, 1.0), *lost), dragged))
        return wanted

    def _number_of(self, *name: object) -> int:
        """A number for what is wanted by that name."""
        names = self.positions.found.names
        return names.setdefault(name, len(names))

    def _minds(self, head: Head) -> float:
        """By how many amps less a load takes for each volt that it is dragged down."""
        return head.amps * SLOPE / abs(self.positions.view.net.volts)

    def drags(self) -> Iterator[tuple[LoadKey, tuple[Row, ...], Ohms]]:
        """Yield each load's full rows by the ohms that it shares with others there.

        All of them, not the first alone: a side lamp loses most with the headlamps on the same fuse.
        """
        for key, ways in self.ways.items():
            alike: dict[Ohms, list[Row]] = {}
            for row in ways:
                if self.positions.is_full(key, row):
                    alike.setdefault(self._ohms.of(key, row), []).append(row)
            for ohms, rows in alike.items():
                yield key, tuple(rows), ohms

    def dragged(self, key: LoadKey, rows: tuple[Row, ...], ohms: Ohms) -> tuple[Wanted, Wanted]:
        """How much all loads drag down the volts of one of them in some of its rows.

        First by the parts that are near it, then by all that only share with it what most parts share: for
        all loads that share this alike that is one and the same.
        """
        own = self.positions.parts.of(self.positions.loads[key].scope)
        sums = Weighed(self._met, own, ohms, only=self._only(key, rows))
        near: Wanted = {(own,): (self._number_of("drag", key, rows, ohms), sums)}
        brings, many = self._met.brings, len(self._met.scopes) / 2
        wide = tuple([each for each in ohms if len(brings[each[0]]) > many])
        parts = {part for number, _ in ohms if len(brings[number]) <= many for part in brings[number]}
        near |= {(part,): self._beside(part, ohms) for part in sorted(parts - {own})}
        if wide not in self._far:
            parts = {part for number, _ in wide for part in brings[number]}
            self._far[wide] = {(part,): self._beside(part, wide) for part in sorted(parts)}
        return near, self._far[wide]

    def _beside(self, part: int, ohms: Ohms) -> Want:
        """How much the loads of another part drag down what shares some ohms."""
        numbers = tuple([each for each in ohms if part in self._met.brings[each[0]]])
        # Where one number weighs alone it does not matter how much.
        weighed = numbers if len(numbers) > 1 else ((numbers[0][0], 1.0),)
        return self._number_of("beside", weighed), Weighed(self._met, part, weighed)

    def relieved(self, key: LoadKey, rows: tuple[Row, ...], ohms: Ohms) -> Wanted:
        """The same to be least; what takes nothing at rest stays there."""
        own = self.positions.parts.of(self.positions.loads[key].scope)
        least = [(number, -shared) for number, shared in ohms]
        sums = Weighed(self._met, own, least, only=self._only(key, rows))
        wanted: Wanted = {(own,): (self._number_of("relief", key, rows, ohms), sums)}
        for part in self.positions.parts.restless - {own}:
            wanted[part,] = (self._number_of("less beside", ohms), Weighed(self._met, part, least))
        return wanted

    def _only(self, key: LoadKey, rows: Sequence[Row]) -> Only:
        """A load in one of some rows of its table."""
        table = self.positions.loads[key]
        return only(table.scope, tuple(table.rows), rows)

    def _on_itself(self, key: LoadKey, row: Row) -> Brings:
        """What a load drags its own volts down by, in V: nothing that it minds."""
        found = self._own.get((key, row))
        if found is None:
            _, places = self._met.places[key]
            volts: dict[int, float] = {}
            for number, ohms in self._ohms.coarse(key, row):
                for other, amps in self._met.meetings[number].get(key, ()):
                    volts[places[other]] = volts.get(places[other], 0.0) + ohms * amps
            found = self._own[key, row] = list(volts.items())
        return found
