"""Hidden state: the laws by which armatures, steps, cams and beats of a factored network move.

The network is factored with these variables free; here the loop is closed, group by group (``hidden_group``).
"""

from collections.abc import Callable, Iterator
from functools import cache
from itertools import product

from planner.circuit.appearance import RUNS_FROM
from planner.circuit.factor import Factored
from planner.circuit.hidden_group import Group, Law
from planner.circuit.network import ArmatureLaw, BeatLaw, CamLaw
from planner.circuit.tree import Function, Projector


@cache
def _coil_judge(ohms: float, pulls_in_v: float, drops_out_v: float) -> Callable[[float], object]:
    def judge(amps: float) -> object:
        volts = abs(amps) * ohms
        return 2 if volts >= pulls_in_v else 1 if volts >= drops_out_v else 0

    return judge


@cache
def _power_judge(rated_amps: float, from_share: float) -> Callable[[float], object]:
    def judge(amps: float) -> object:
        return (amps / rated_amps) ** 2 >= from_share

    return judge


@cache
def _least_judge(amps_needed: float) -> Callable[[float], object]:
    def judge(amps: float) -> object:
        return abs(amps) >= amps_needed

    return judge


def is_present(number: float) -> object:
    """Whether a result is there at all."""
    return number != 0.0


class States:
    """The laws of all hidden variables of a factored network, and their groups."""

    def __init__(self, factored: Factored, projector: Projector) -> None:
        self.factored, self.projector = factored, projector
        self.net, self.store = factored.net, factored.store
        self.sizes = {
            number: len(self.net.variables[name].values) for name, number in factored.variables.items()
        }
        self.names = {number: name for name, number in factored.variables.items()}
        self.hidden = frozenset(factored.variables[name] for name in self.net.hidden)
        self.laws = {law.variable: law for law in self._laws()}
        self.owner = {v: law for law in self.laws.values() for v in (law.variable, *law.steps)}
        self._groups: dict[frozenset[int], Group] = {}

    def function(self, judge: Callable[[float], object], *key: object) -> Function:
        """The function of one result, judged."""
        return self.projector.project(self.factored.tree, self.store.key(*key), judge)

    def _laws(self) -> Iterator[Law]:
        for armature in self.net.armatures.values():
            yield self._armature(armature)
        for cam in self.net.cams.values():
            yield self._cam(cam)
        for beat in self.net.beats.values():
            yield self._beat(beat)

    def _armature(self, law: ArmatureLaw) -> Law:
        judge = _coil_judge(law.ohms, law.pulls_in_v, law.drops_out_v)
        steps = tuple(self.factored.variables[name] for name in law.steps)
        return Law(
            self.factored.variables[law.variable],
            "armature",
            self.function(judge, "load", *law.load),
            steps,
            step_sizes=tuple(self.sizes[step] for step in steps),
        )

    def _cam(self, law: CamLaw) -> Law:
        drive = self.projector.constant(False)
        for load in law.loads:
            runs = self.function(_power_judge(self.net.loads[load].rated_amps, RUNS_FROM), "load", *load)
            drive = self.projector.combine(drive, runs, _either)
        variable = self.factored.variables[law.variable]
        return Law(variable, "cam", drive, size=self.sizes[variable])

    def _beat(self, law: BeatLaw) -> Law:
        variable = self.factored.variables[law.variable]
        enough = _least_judge(law.needs_amps)
        drive = self.projector.combine(
            self.function(enough, "amps", law.label), self.function(enough, "through", law.label), _either
        )
        supply = None
        if law.supply:
            live, back = law.supply
            supply = self.projector.combine(
                self.function(is_present, "live", live), self.function(is_present, "zero", back), _both
            )
        return Law(variable, "beat", drive, size=3, supply=supply)

    def group(self, support: frozenset[int]) -> Group:
        """The group of all hidden variables a function depends on, directly or through others."""
        hidden = support & self.hidden
        found = self._groups.get(hidden)
        if found is None:
            wanted = set(hidden)
            stack = list(wanted)
            while stack:
                law = self.owner.get(stack.pop())
                if law is not None:
                    more = {v for v in law.support() if v in self.hidden} - wanted
                    wanted |= more
                    stack.extend(more)
            laws = tuple(self.laws[v] for v in sorted(wanted & set(self.laws)))
            group = Group(laws, tuple(sorted(wanted)), self.sizes)
            # A variable's number stands for its values as well, so equal laws have equal states in all looms.
            found = self._groups[hidden] = self.projector.groups.setdefault(
                (group.hidden, *group.identity), group
            )
        return found

    def settings(self, controls: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
        """Every setting of some controls."""
        yield from product(*(range(self.sizes[c]) for c in controls))


def _either(a: object, b: object) -> object:
    return bool(a) or bool(b)


def _both(a: object, b: object) -> object:
    return bool(a) and bool(b)
