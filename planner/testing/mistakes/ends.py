"""Ends that are not where they should be: off, on a wrong terminal, traded, in mirror image."""

from collections.abc import Iterator, Mapping
from functools import cached_property
from itertools import combinations

from planner.messages import later, tr
from planner.model.catalogue import Catalogue
from planner.model.delta import EndRef
from planner.model.loom import split_address
from planner.model.polarity import polarity_of
from planner.model.wording import mark_words
from planner.testing.mistakes.mistake import Change, EndAt, Kind, Mistake
from planner.testing.mistakes.priors import weight
from planner.testing.mistakes.room import Room
from planner.testing.mistakes.turned_stabiliser import traded_on
from planner.testing.wired import Wired

# Columns exchanged, and rows.
_MIRRORED = (
    later("the {place} is wired as its mirror image, left and right exchanged"),
    later("the {place} is wired as its mirror image, top and bottom exchanged"),
)


class Ends:
    """The mistakes that can be made with the ends of one loom."""

    def __init__(self, wired: Wired, catalogue: Catalogue) -> None:
        self.wired, self.loom, self.room = wired, wired.loom, Room(wired, catalogue)

    def every(self) -> Iterator[Mistake]:
        """Yield them all; those of one end first."""
        for wire in self.loom.wires:
            for number, end in enumerate(wire.ends):
                if end.at not in ("loose", "unknown") and not end.covered:
                    yield self._off((wire.wire, number), end.at)
                    yield from self._elsewhere((wire.wire, number), end.at)
        for place in self._groups:
            yield from self._traded(place)
        for place in self.loom.places:
            yield from self._mirrored(place)

    @cached_property
    def _groups(self) -> Mapping[str, tuple[tuple[EndRef, str], ...]]:
        """The ends that lie side by side: at one place, or at the joiners of one bunch."""
        found: dict[str, list[tuple[EndRef, str]]] = {}
        for wire in self.loom.wires:
            for number, end in enumerate(wire.ends):
                head, tail = split_address(end.at)
                group = f"joint:{tail.rpartition('-')[0] or tail}" if head == "joint" else head
                if head in self.loom.places or head == "joint":
                    found.setdefault(group, []).append(((wire.wire, number), end.at))
        return {group: tuple(ends) for group, ends in found.items()}

    def _off(self, end: EndRef, at: str) -> Mistake:
        kind: Kind = "earth missing" if split_address(at)[0] == "earth" else "end off"
        return Mistake(
            f"{end[0]}.{end[1]}-off",
            kind,
            tr("{wire} is off {at}", wire=self.wired.wire(*end), at=self.wired.at(at)),
            weight(kind, touched=self.room.is_touched(end)),
            (at,),
            (Change(ends=(EndAt(*end, "loose"),)),),
        )

    def _elsewhere(self, end: EndRef, at: str) -> Iterator[Mistake]:
        """Yield an end on each other terminal of its place that it fits and that has room for it."""
        place, own = split_address(at)
        if place not in self.loom.places:
            return
        touched = self.room.is_touched(end)
        others = [
            mark
            for mark, terminal in self.room.part(place).terminals.items()
            if mark != own and self.room.takes_one_more(end, at, f"{place}:{mark}", terminal)
        ]
        for mark in others:
            there = f"{place}:{mark}"
            yield Mistake(
                f"{end[0]}.{end[1]}-on-{there}",
                "wrong terminal",
                tr(
                    "{wire} is on {mark} instead of {own} on the {place}",
                    wire=self.wired.wire(*end),
                    mark=mark_words(mark),
                    own=mark_words(own),
                    place=self.wired.title_of(place),
                ),
                weight("wrong terminal", touched=touched, ways=len(others)),
                (at, there),
                (Change(ends=(EndAt(*end, there),)),),
            )

    def _traded(self, group: str) -> Iterator[Mistake]:
        """Yield two ends each on the other's terminal; with only two on a part it is the wrong way round."""
        ends = self._groups[group]
        is_joint = group.startswith("joint")
        for (one, at), (other, there) in combinations(ends, 2):
            if at == there or (is_joint and not self.room.is_touched(one, other)):
                continue
            if one[0] == other[0] and {one[1], other[1]} == {0, len(self.loom.find(one[0]).ends) - 1}:
                continue  # the two ends of one wire
            if not is_joint:
                here, yonder = self.room.terminal(at), self.room.terminal(there)
                if here is None or yonder is None or "mounting" in (here.by, yonder.by):
                    continue
                if not (self.room.goes_on(one, at, yonder) and self.room.goes_on(other, there, here)):
                    continue
                if self.room.is_one_conductor(at, there):
                    continue  # nothing works otherwise
            if len(ends) == 2 and not is_joint and self._is_alike_both_ways(group):
                continue  # nothing works otherwise
            kind: Kind = "wrong way round" if not is_joint and len(ends) == 2 else "ends traded"
            if kind == "wrong way round":
                words = tr(
                    "the {place} is connected the wrong way round: {one} and {other} are each on the "
                    "other's terminal",
                    place=self.wired.title_of(group),
                    one=self.wired.wire(*one),
                    other=self.wired.wire(*other),
                )
            else:
                words = self._traded_words(one, at, other, there)
            touched = self.room.is_touched(one, other)
            yield Mistake(
                f"{one[0]}.{one[1]}-traded-{other[0]}.{other[1]}",
                kind,
                words,
                weight(kind, touched=touched, ways=len(ends) - 1),
                (at, there),
                (self._change(one, at, other, there),),
            )

    def _change(self, one: EndRef, at: str, other: EndRef, there: str) -> Change:
        place, _ = split_address(at)
        if place == split_address(there)[0] and place in self.loom.places:
            return traded_on(self.room.part(place), one, at, other, there)
        return Change(ends=(EndAt(*one, there), EndAt(*other, at)))

    def _is_alike_both_ways(self, place: str) -> bool:
        """Whether nothing between the two terminals of a part minds which way the current goes."""
        part = self.room.part(place)
        return bool(part.inside) and len(part.terminals) == 2 and polarity_of(part) == "indifferent"

    def _traded_words(self, one: EndRef, at: str, other: EndRef, there: str) -> str:
        (place, mark), (beside, other_mark) = split_address(at), split_address(there)
        if one[0] == other[0]:
            return tr(
                "two ends of {wire} are traded, {at} and {there}: the one that leads to {far} belongs on "
                "{at}",
                wire=self.wired.wire(*one),
                at=self.wired.at(at),
                there=self.wired.at(there),
                far=self._leads_to(one, other),
            )
        wires = {"one": self.wired.wire(*one), "other": self.wired.wire(*other)}
        if place == beside and place in self.loom.places:
            return tr(
                "{one} and {other} are traded on the {place}: {mark} and {other_mark}",
                **wires,
                place=self.wired.title_of(place),
                mark=mark_words(mark),
                other_mark=mark_words(other_mark),
            )
        return tr(
            "{one} and {other} are traded: {at} and {there}",
            **wires,
            at=self.wired.at(at),
            there=self.wired.at(there),
        )

    def _leads_to(self, end: EndRef, besides: EndRef) -> str:
        """Where the legs at an end of a wire lead, but to another end of it; there if nowhere else."""
        ends = self.loom.find(end[0]).ends
        near = [n for n in (end[1] - 1, end[1] + 1) if 0 <= n < len(ends)]
        far = [n for n in near if n != besides[1]] or near
        return tr(" and ").join(self.wired.at(ends[n].at) for n in far)

    def _mirrored(self, place: str) -> Iterator[Mistake]:
        """Yield a part wired as its face looks in a mirror: columns, or rows, the other way round."""
        faces = {m: t.face for m, t in self.room.part(place).terminals.items() if t.face is not None}
        marks = {face: mark for mark, face in faces.items()}
        ends = [((w, n), mark) for w, n, mark in self.loom.ends_of_place(place)]
        if len(ends) < 3 or any(mark not in faces for _, mark in ends):
            return
        seen = set()
        for axis, words in enumerate(_MIRRORED):
            total = max(face[axis] for face in marks) + min(face[axis] for face in marks)
            moved = []
            for end, mark in ends:
                face = list(faces[mark])
                face[axis] = total - face[axis]
                target = marks.get((face[0], face[1]))
                if target is None or not self.room.goes_on(
                    end, f"{place}:{mark}", self.room.part(place).terminals[target]
                ):
                    break
                if target != mark:
                    moved.append(EndAt(*end, f"{place}:{target}"))
            else:
                if len(moved) > 2 and tuple(moved) not in seen:
                    seen.add(tuple(moved))
                    touched = place in self.wired.touched_places
                    yield Mistake(
                        f"{place}-mirrored-{axis}",
                        "mirror image",
                        tr(words).format(place=self.wired.title_of(place)),
                        weight("mirror image", touched=touched),
                        tuple(f"{place}:{mark}" for mark in faces),
                        (Change(ends=tuple(moved)),),
                    )
