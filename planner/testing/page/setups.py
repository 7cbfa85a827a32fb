"""How the vehicle stands while it is measured: which controls are moved, and what moves by itself then."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from planner.circuit.fitted import LoadKey
from planner.circuit.hidden_group import LIGHT
from planner.currents.positions import Positions

# How what an engine makes stands while it has not run, engine, water and oil.
BY_ITSELF = frozenset({"stopped", "cold", "absent"})
MOST_HELD = 1  # levers and buttons that one person holds while measuring


@dataclass(frozen=True, eq=False)
class Setup:
    """One setting of the controls, with every state that the vehicle goes through while they are held.

    ``moved`` is all that is not at rest; ``remembered`` what has to be worked until it is so, a stepping
    relay. ``states`` are whole positions: the first is the one it is computed in, the others what beats and
    cams make of it. ``loads`` are meant to work in it.
    """

    moved: Mapping[str, str]
    states: tuple[Mapping[str, str], ...]
    loads: tuple[LoadKey, ...] = ()
    remembered: Mapping[str, str] = field(default_factory=dict)
    lead_off: str = ""  # the terminal whose wires are off it meanwhile
    is_run_out: bool = False  # it is read once something has run that runs out by itself
    dark: Mapping[str, str] | None = None  # its dark half, if a flasher is at work; the first state is light

    @property
    def position(self) -> Mapping[str, str]:
        """The position that it is computed in."""
        return self.states[0]

    @property
    def name(self) -> tuple[tuple[str, str], ...]:
        """What is moved and remembered, equal for equal setups."""
        return tuple(sorted({**self.moved, **self.remembered}.items()))


class Stands:
    """Settles settings of the controls of one loom, starting with everything at rest."""

    def __init__(self, positions: Positions) -> None:
        self.positions, self.view = positions, positions.view
        self.variables = self.view.net.variables
        self.controls = frozenset(self.view.net.controls)

    def at(self, moved: Mapping[str, str], loads: tuple[LoadKey, ...] = ()) -> Setup:
        """The vehicle with some controls moved, the others at rest."""
        own = {n: v for n, v in sorted(moved.items()) if n in self.controls and v != self._rest(n)}
        states = tuple(self._states(own))
        return Setup(own, states, loads, dark=self._dark(states))

    def like(self, position: Mapping[str, str], load: LoadKey) -> Setup:
        """The setup in which a load works as in a position, with no more moved than that needs.

        What only an engine makes is left as it stands before that has run: a gauge then shows another end of
        its scale, and what does not work without it is not tried.
        """
        wanted = {n for n in self.controls if self._by_engine(n) and position.get(n, "") != self._rest(n)}
        setup = self.at({n: v for n, v in position.items() if n not in wanted}, (load,))
        if wanted and not self.works(setup):
            is_gauge = self.view.net.loads[load].kind == "gauge"
            return setup if is_gauge else replace(setup, loads=())
        if self.works(setup):
            for name in setup.moved:
                fewer = self.at({n: v for n, v in setup.moved.items() if n != name}, (load,))
                setup = fewer if self.works(fewer) else setup
            return setup
        other = {
            name: value
            for name, value in position.items()
            if name not in self.controls and value != setup.position[name] and self._lasts(name)
        }
        return Setup(setup.moved, (position,), (load,), other)

    def held(self, setup: Setup) -> int:
        """How many levers and buttons are held against their spring."""
        return sum(value in self.variables[name].sprung for name, value in setup.moved.items())

    def works(self, setup: Setup) -> bool:
        """Whether each of its loads works fully in some state of it, and one person can hold it."""
        if self.held(setup) > MOST_HELD:
            return False
        full = [self._full(state) for state in setup.states]
        return all(any(load in own for own in full) for load in setup.loads)

    def merged(self, setups: Iterable[Setup]) -> list[Setup]:
        """Setups put together where they are the same, and all their loads work at once."""
        found: list[Setup] = []
        for setup in setups:
            for at, other in enumerate(found):
                joint = replace(other, loads=(*other.loads, *setup.loads))
                if other.name == setup.name and (setup.remembered or self.works(joint)):
                    found[at] = joint
                    break
            else:
                found.append(setup)
        return found

    def _dark(self, states: Sequence[Mapping[str, str]]) -> Mapping[str, str] | None:
        beats = [name for name, variable in self.variables.items() if variable.kind == "beat"]
        return next((own for own in states if any(own[name] != states[0][name] for name in beats)), None)

    def _by_engine(self, name: str) -> bool:
        return self._rest(name) in BY_ITSELF

    def _rest(self, name: str) -> str:
        return self.variables[name].values[0]

    def _lasts(self, name: str) -> bool:
        return self.variables[name].kind not in ("beat", "cam")

    def _full(self, position: Mapping[str, str]) -> frozenset[LoadKey]:
        assignment = {
            number: self.variables[name].values.index(position[name])
            for name, number in self.view.variable_number.items()
        }
        return self.positions.full_at(assignment)

    def _states(self, moved: Mapping[str, str]) -> Iterator[dict[str, str]]:
        """Yield the position that it ends in, then what moves on by itself, one group after another."""
        view, states = self.view, self.view.states
        assignment = {
            number: self.variables[name].values.index(moved[name]) if name in moved else 0
            for name, number in view.variable_number.items()
        }
        ways: list[tuple[tuple[int, ...], tuple[tuple[int, ...], ...]]] = []
        left = set(states.hidden)
        while left:
            group = states.group(frozenset((min(left),)))
            left -= set(group.hidden)
            setting = tuple(assignment[v] for v in group.controls)
            ends = group.final(setting, (0,) * len(group.hidden)).states
            ways.append((group.hidden, _light_first(ends, group.beats)))
        for hidden, ends in ways:
            assignment.update(zip(hidden, ends[0], strict=True))
        yield view.position(assignment)
        for hidden, ends in ways:
            for other in ends[1:]:
                yield view.position(assignment | dict(zip(hidden, other, strict=True)))


def _light_first(ends: Sequence[tuple[int, ...]], beats: Sequence[int]) -> tuple[tuple[int, ...], ...]:
    """Some states; of what beats the light half is read, so it comes first."""
    return tuple(sorted(ends, key=lambda end: sum(end[at] != LIGHT for at in beats)))
