"""Hidden variables that depend on one another, and which of their states can be reached.

With the controls held, coils move one at a time (a step moves with its armature, in the same move); when they
are at rest, cams and flashers move one at a time, in any order. What remains in the end is the *final set* of
states. Start states are those reachable from all-at-rest by moving one control at a time; flashers start at
rest.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from planner.circuit.tree import Function
from planner.problems import TooLargeError

MOST_STATES = 400_000  # control settings times hidden states one group may have before it is refused
REST, LIGHT, DARK = range(3)
RELEASED, PULLED = range(2)

Assignment = dict[int, int]


@dataclass(frozen=True, slots=True)
class Law:
    """How one hidden variable moves: its functions of the other variables."""

    variable: int
    kind: str
    drive: Function
    steps: tuple[int, ...] = ()  # variables that move with an armature
    size: int = 2
    step_sizes: tuple[int, ...] = ()
    supply: Function | None = None

    def support(self) -> frozenset[int]:
        """Variables the law depends on, its own included."""
        own = self.drive.support | {self.variable, *self.steps}
        return own | self.supply.support if self.supply else own


@dataclass(frozen=True, slots=True)
class Final:
    """What remains of a start: the final set, all states on the way, and how it went.

    ``ends`` are the ways it can end: one set of states for each order of moves that ends differently.
    ``rests`` are the states on the way, and at the end, that last a while: no relay is about to move.
    """

    states: tuple[tuple[int, ...], ...]
    ends: tuple[tuple[tuple[int, ...], ...], ...]
    visited: tuple[tuple[int, ...], ...]
    rests: tuple[tuple[int, ...], ...]
    chatters: bool
    depends_on_order: bool


class Group:
    """Hidden variables that depend on one another, and the controls that move them."""

    def __init__(self, laws: tuple[Law, ...], hidden: tuple[int, ...], sizes: Mapping[int, int]) -> None:
        self.laws = laws
        self.hidden = hidden
        self.place_of = {variable: index for index, variable in enumerate(hidden)}
        support = frozenset().union(*(law.support() for law in laws)) if laws else frozenset()
        self.controls = tuple(sorted(support - set(hidden)))
        self.sizes = sizes
        self.beats = tuple(self.place_of[law.variable] for law in laws if law.kind == "beat")
        self._finals: dict[tuple[tuple[int, ...], tuple[int, ...]], Final] = {}
        self._starts: dict[tuple[int, ...], tuple[tuple[int, ...], ...]] | None = None

    @cached_property
    def identity(self) -> tuple[object, ...]:
        """Equal for groups that behave equally: the same functions drive the same variables."""
        return tuple(
            (law.variable, law.kind, id(law.drive), id(law.supply), law.steps, law.size) for law in self.laws
        )

    @cached_property
    def chattering(self) -> tuple[tuple[int, ...], ...]:
        """Settings of the controls in which relays find no rest."""
        return tuple(
            setting
            for setting, starts in self.starts().items()
            if any(self.final(setting, start).chatters for start in starts)
        )

    @cached_property
    def lasting(self) -> frozenset[tuple[tuple[int, ...], tuple[int, ...]]]:
        """Every setting of the controls with each state that lasts a while in it."""
        return frozenset(
            (setting, state)
            for setting, starts in self.starts().items()
            for start in starts
            for state in self.final(setting, start).rests
        )

    def starts(self) -> Mapping[tuple[int, ...], tuple[tuple[int, ...], ...]]:
        """Reachable start states by setting of the controls."""
        if self._starts is None:
            self._starts = self._reach()
        return self._starts

    def _reach(self) -> dict[tuple[int, ...], tuple[tuple[int, ...], ...]]:
        rest = (tuple(0 for _ in self.controls), tuple(0 for _ in self.hidden))
        seen = {rest}
        stack = [rest]
        while stack:
            setting, state = stack.pop()
            for final in self.final(setting, state).states:
                begin = tuple(0 if i in self.beats else s for i, s in enumerate(final))
                # What a start settles to is a start as well, with nothing moved or with one control moved.
                nexts = [(setting, begin)]
                for index, control in enumerate(self.controls):
                    nexts += [
                        ((*setting[:index], value, *setting[index + 1 :]), begin)
                        for value in range(self.sizes[control])
                        if value != setting[index]
                    ]
                stack += [nxt for nxt in nexts if nxt not in seen]
                seen.update(nexts)
            if len(seen) > MOST_STATES:
                raise TooLargeError([str(v) for v in (*self.controls, *self.hidden)], len(seen))
        out: dict[tuple[int, ...], set[tuple[int, ...]]] = {}
        for setting, state in seen:
            out.setdefault(setting, set()).add(state)
        return {setting: tuple(sorted(states)) for setting, states in sorted(out.items())}

    def final(self, setting: tuple[int, ...], state: tuple[int, ...]) -> Final:
        """Where a start ends while the controls are held."""
        found = self._finals.get((setting, state))
        if found is None:
            found = self._finals[setting, state] = self._settle(setting, state)
        return found

    def _settle(self, setting: tuple[int, ...], start: tuple[int, ...]) -> Final:
        assignment: Assignment = dict(zip(self.controls, setting, strict=True))
        edges: dict[tuple[int, ...], list[tuple[int, ...]]] = {}
        unsettled: set[tuple[int, ...]] = set()
        stack = [start]
        while stack:
            state = stack.pop()
            if state in edges:
                continue
            assignment.update(zip(self.hidden, state, strict=True))
            coils = list(self._coil_moves(assignment, state))
            if coils:
                unsettled.add(state)
            edges[state] = coils or list(self._slow_moves(assignment, state))
            stack.extend(edges[state])
        every = _terminal_components(edges)
        settling = [rest for end in every if (rest := tuple(s for s in end if s not in unsettled))]
        ends = settling or [tuple(end) for end in every]  # it chatters only if no order settles
        states = tuple(sorted(state for end in ends for state in end))
        rests = tuple(sorted(set(edges) - unsettled))
        return Final(states, tuple(ends), tuple(sorted(edges)), rests, not settling, len(every) > 1)

    def _coil_moves(self, assignment: Assignment, state: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
        for law in self.laws:
            if law.kind != "armature":
                continue
            at = self.place_of[law.variable]
            drive = law.drive.at(assignment)
            if state[at] == RELEASED and drive == 2:
                new = list(state)
                new[at] = PULLED
                for step, size in zip(law.steps, law.step_sizes, strict=True):
                    place = self.place_of[step]
                    new[place] = (new[place] + 1) % size
                yield tuple(new)
            elif state[at] == PULLED and drive == 0:
                yield (*state[:at], RELEASED, *state[at + 1 :])

    def _slow_moves(self, assignment: Assignment, state: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
        for law in self.laws:
            at = self.place_of[law.variable]
            if law.kind == "cam" and law.drive.at(assignment):
                yield (*state[:at], (state[at] + 1) % law.size, *state[at + 1 :])
            elif law.kind == "beat":
                beats = bool(law.drive.at({**assignment, law.variable: LIGHT}))
                if law.supply is not None:
                    beats = beats and bool(law.supply.at(assignment))
                target = {REST: LIGHT, LIGHT: DARK, DARK: LIGHT}[state[at]] if beats else REST
                if target != state[at]:
                    yield (*state[:at], target, *state[at + 1 :])


def _terminal_components(
    edges: Mapping[tuple[int, ...], list[tuple[int, ...]]],
) -> list[list[tuple[int, ...]]]:
    """Strongly connected components that nothing leaves, each sorted."""
    reach: dict[tuple[int, ...], frozenset[tuple[int, ...]]] = {}
    for state in edges:
        seen = {state}
        stack = [state]
        while stack:
            for nxt in edges[stack.pop()]:
                if nxt not in seen:
                    seen.add(nxt)
                    stack.append(nxt)
        reach[state] = frozenset(seen)
    ends = {reach[state] for state in edges if all(reach[other] == reach[state] for other in reach[state])}
    return [sorted(end) for end in sorted(ends, key=sorted)]
