"""What moves by itself in a world: relays, steps, cams and flashers, and the fuses that blow."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from planner.circuit.appearance import RUNS_FROM
from planner.circuit.fitted import LoadKey
from planner.currents.curves import Array
from planner.currents.laws import Emf, Resistance
from planner.currents.solver import Branch
from planner.testing.fuses import rated_amps
from planner.testing.hunt.vehicle import Vehicle

BLOWS_AT = 1.5  # times the continuous rating: in minutes, not at once; common practice, no source


@dataclass(frozen=True, slots=True)
class State:
    """Hidden variables by name; flashers that beat, and those that were tried; cams that turn; blown fuses.

    A fuse, or a feed with one, is told by its branch. A cam that turns stands in its last state, in which it
    is for most of a turn; a flasher that beats is light.
    """

    hidden: tuple[tuple[str, str], ...]
    beating: frozenset[str] = frozenset()
    tried: frozenset[str] = frozenset()
    turning: frozenset[str] = frozenset()
    blown: frozenset[int] = frozenset()

    def moved(self, **values: str) -> "State":
        """With some hidden variables elsewhere."""
        return replace(self, hidden=tuple((dict(self.hidden) | values).items()))

    def dark(self) -> "State":
        """In the other half of the beat."""
        return self.moved(**dict.fromkeys(self.beating, "dark"))


class Moves:
    """The laws of what moves in the worlds of one vehicle."""

    def __init__(self, vehicle: Vehicle) -> None:
        self.vehicle, self.net, self.nodes = vehicle, vehicle.net, vehicle.nodes
        self.branches = vehicle.grid.branches
        by_name = vehicle.editor.by_name
        self.loads: Mapping[LoadKey, int] = {
            key: by_name["load", *key] for key in self.net.loads if ("load", *key) in by_name
        }
        self.flashers = {
            name: by_name["flasher", place, index]
            for name, beat in self.net.beats.items()
            for _, place, index in [beat.label.split(":")]
        }
        self.fuses = self._fuses()

    def _fuses(self) -> dict[int, float]:
        """The amps from which each fuse blows, by its branch."""
        rated = rated_amps(self.vehicle.grid, self.vehicle.wired.loom, self.vehicle.catalogue.parts)
        return {index: BLOWS_AT * amps for index, amps in rated.items()}

    def branch(self, world: int, index: int) -> Branch | None:
        """A branch of the sound vehicle as it is in a world; None if it is gone."""
        edit = self.vehicle.worlds[world].edit
        branch = self.branches[index].branch
        if index not in edit.gone:
            return branch
        return next((gated.branch for gated in edit.added if gated.branch.name == branch.name), None)

    def across(self, world: int, index: int, volts: Array) -> float:
        """Volts across a branch; 0 if it is gone."""
        branch = self.branch(world, index)
        return 0.0 if branch is None else float(volts[self.nodes[branch.a]] - volts[self.nodes[branch.b]])

    def amps(self, world: int, index: int, volts: Array) -> float:
        """Amps through a branch; 0 if it is gone."""
        branch = self.branch(world, index)
        return 0.0 if branch is None else branch.law.amps(self.across(world, index, volts))

    def next(self, world: int, state: State, volts: Array, *, follow: bool = True) -> State | None:
        """What a world does next in a state; None if nothing moves.

        Without ``follow`` it is only asked whether it would have got there from rest: a relay that would
        hold, but not pull in, has not.
        """
        fuse = self._blows(world, state, volts)
        if fuse is not None:
            return replace(state, blown=state.blown | {fuse}, tried=frozenset())
        hidden = dict(state.hidden)
        for name, law in self.net.armatures.items():
            size = abs(self.across(world, self.loads[law.load], volts)) if law.load in self.loads else 0.0
            if hidden[name] == "released" and size >= law.pulls_in_v:
                steps = {step: self._after(step, hidden[step]) for step in law.steps if step in hidden}
                return replace(state.moved(**steps, **{name: "pulled"}), tried=frozenset())
            if hidden[name] == "pulled" and size < (law.drops_out_v if follow else law.pulls_in_v):
                return replace(state.moved(**{name: "released"}), tried=frozenset())
        return self._cam(world, state, volts) or self._beat(world, state, volts)

    def _blows(self, world: int, state: State, volts: Array) -> int | None:
        """The fuse that has most to bear, if it is more than it can."""
        share = {
            index: abs(self.amps(world, index, volts)) / most
            for index, most in self.fuses.items()
            if index not in state.blown and self._may_carry(index, volts)
        }
        worst = max(share, key=share.__getitem__, default=None)
        return worst if worst is not None and share[worst] > 1.0 else None

    def _may_carry(self, index: int, volts: Array) -> bool:
        """Whether a fuse has volts across at all; asked first, for most have next to none."""
        branch = self.branches[index].branch
        if isinstance(branch.law, Emf):
            return True
        law = branch.law
        assert isinstance(law, Resistance)
        across = abs(volts[self.nodes[branch.a]] - volts[self.nodes[branch.b]])
        return bool(across > self.fuses[index] * law.ohms)

    def _after(self, variable: str, value: str) -> str:
        values = self.net.variables[variable].values
        return values[(values.index(value) + 1) % len(values)]

    def _cam(self, world: int, state: State, volts: Array) -> State | None:
        hidden = dict(state.hidden)
        for name, cam in self.net.cams.items():
            if name not in hidden:
                continue
            runs = any(self.runs(world, load, volts) for load in cam.loads)
            is_last = hidden[name] == self.net.variables[name].values[-1]
            if runs and not is_last:
                return state.moved(**{name: self._after(name, hidden[name])})
            if runs and name not in state.turning:
                return replace(state, turning=state.turning | {name})
        return None

    def runs(self, world: int, load: LoadKey, volts: Array) -> bool:
        """Whether a motor turns."""
        info = self.net.loads[load]
        amps = self.amps(world, self.loads[load], volts)
        return (amps / info.rated_amps) ** 2 >= RUNS_FROM

    def _beat(self, world: int, state: State, volts: Array) -> State | None:
        for name, beat in self.net.beats.items():
            if name not in state.tried:
                return replace(
                    state.moved(**{name: "light"}),
                    tried=state.tried | {name},
                    beating=state.beating | {name},
                )
            if name not in state.beating:
                continue
            enough = abs(self.amps(world, self.flashers[name], volts)) >= beat.needs_amps
            if beat.supply and enough:
                live, back = (volts[self.nodes[node]] for node in beat.supply)
                enough = abs(live - back) > abs(self.net.volts) / 2
            if not enough:
                return replace(state.moved(**{name: "rest"}), beating=state.beating - {name})
        return None
