"""What every check looks at: the survey, the loom, and the published limits."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from planner.circuit.fitted import FittedPart, LoadKey
from planner.currents.carried import Peak
from planner.currents.checks.once import Once
from planner.currents.laws import Emf
from planner.currents.sample import Sample
from planner.currents.solver import Branch
from planner.currents.sums import Scope
from planner.currents.surveyed import Survey
from planner.model.catalogue import Catalogue
from planner.model.elements import AnyElement, Fuse
from planner.model.fitted_fuse import fuse_as_fitted
from planner.model.loom import Loom
from planner.model.part import Part
from planner.model.published import Published
from planner.model.standards import Standards

LEAST_SHARE = 0.1  # of a branch's current: a load that has less of it is not named


@dataclass(frozen=True)
class Inspection:
    """One loom under inspection."""

    survey: Survey
    loom: Loom
    catalogue: Catalogue
    standards: Standards
    like: "Inspection | None" = field(default=None, compare=False, repr=False)  # of a loom much like it

    @cached_property
    def _alike(self) -> "Inspection | None":
        """The inspection of the other loom, if that differs in its wires only."""
        like = self.like
        if like is None or self.survey.like is not like.survey or self.catalogue is not like.catalogue:
            return None
        names = (name for name in type(self.loom).model_fields if name != "wires")
        same = all(getattr(self.loom, name) is getattr(like.loom, name) for name in names)
        return like if same and self.standards is like.standards else None

    @cached_property
    def once(self) -> Once:
        """What checks made, also of that other loom."""
        return Once(self._alike.once if self._alike else None)

    def lasting(self, samples: Sequence[Sample]) -> list[Sample]:
        """The samples in which least is held for a moment: nothing, unless a load only works then."""
        held = min((sample.held for sample in samples), default=0)
        return [sample for sample in samples if sample.held == held]

    def part_of(self, place: str) -> Part:
        """The part at a place."""
        return self.catalogue.parts[self.loom.places[place].part]

    def rated_volts(self, key: LoadKey, element: AnyElement) -> float:
        """The volts that a load is made for: its own, or those of its part."""
        return getattr(element, "volts", None) or self.part_of(key[0]).volts

    @cached_property
    def drivers(self) -> frozenset[str]:
        """The variables that decide whether a generator gives."""
        return frozenset(name for g in self.survey.grid.branches if g.kind == "source" for name, _ in g.guard)

    def moves(self, loads: tuple[LoadKey, ...]) -> frozenset[str]:
        """What some loads depend on, and what drives generators."""
        known = self._moves.get(loads)
        if known is None:
            known = self._moves[loads] = self.drivers.union(*map(self.controls_of, loads))
        return known

    @cached_property
    def _moves(self) -> dict[tuple[LoadKey, ...], frozenset[str]]:
        """By loads, as far as anybody asked."""
        return self._alike._moves if self._alike else {}

    def controls_of(self, key: LoadKey) -> frozenset[str]:
        """The variables that a load depends on, those that move its relays, cams and beats too."""
        table = self.survey.positions.loads.get(key)
        return self._names_of(table.scope) if table else frozenset()

    def _names_of(self, scope: Scope) -> frozenset[str]:
        known = self._names.get(scope)
        if known is None:
            states = self.survey.positions.view.states
            group = states.group(frozenset(scope))
            names = frozenset(states.names[v] for v in (*scope, *group.controls))
            known = self._names[scope] = names
        return known

    @cached_property
    def _names(self) -> dict[Scope, frozenset[str]]:
        """By the scope of some load's table what moves it, as far as anybody asked."""
        return self._alike._names if self._alike else {}

    @cached_property
    def rest_sample(self) -> Sample:
        """The loom with everything at rest."""
        return self.survey.samples[0]

    @property
    def peaks(self) -> Mapping[int, Peak]:
        """For each branch the most that lasts, or what is held for a moment where nothing lasts."""
        return self.survey.carried.peaks

    def way_to(self, index: int, sample: Sample) -> list[int]:
        """The branches from the live pole to a load, in that order, along the largest share of its current.

        With the positive pole earthed the current of a load comes from earth and leaves by the live pole.
        """
        is_negative = self.loom.supply.live_volts > 0
        return list(sample.flow.before(index) if is_negative else reversed(sample.flow.after(index)))

    def taken_amps(self, source: int, sample: Sample) -> float:
        """What flows into a source, in A; negative while it gives."""
        law = self.branch(source).law
        assert isinstance(law, Emf)
        return sample.amps[source] if law.volts > 0 else -sample.amps[source]

    def path(self, index: int, sample: Sample) -> tuple[str, ...]:
        """The nodes from the live pole to earth by way of a load, along the largest share of its current."""
        path = sample.flow.path(index)
        return path if self.loom.supply.live_volts > 0 else path[::-1]

    def loads_in(self, index: int, sample: Sample) -> tuple[LoadKey, ...]:
        """The loads whose current it is that flows in a branch, the largest first."""
        total = abs(sample.amps[index])
        found = []
        loads = self.survey.positions.view.net.loads
        for key, load, amps in sample.live_loads:
            if amps < LEAST_SHARE * total or key not in loads or loads[key].kind == "diode":
                continue
            part = sample.flow.shares(load).get(index, 0.0) * amps
            if part > LEAST_SHARE * total:
                found.append((-round(part, 9), key))  # in series they are equal but for the last digits
        return tuple(key for _, key in sorted(found))

    def way(self, loads: Sequence[LoadKey], sample: Sample) -> tuple[str, ...]:
        """The way of the current through the first of some loads, terminal by terminal from the live pole."""
        if not loads:
            return ()
        return self.path(self.survey.grid.loads[loads[0]], sample)

    def branch(self, index: int) -> Branch:
        """A branch of the grid."""
        return self.survey.grid.branches[index].branch

    def element(self, index: int) -> AnyElement:
        """What a branch is in its part, for branches that are inside one; a fuse as it was put in."""
        known = self._elements.get(index)
        if known is None:
            known = self._elements[index] = self._element(index)
        return known

    @cached_property
    def _elements(self) -> dict[int, AnyElement]:
        """What branches are, as far as anybody asked."""
        return self._alike._elements if self._alike else {}

    def _element(self, index: int) -> AnyElement:
        name = self.branch(index).name
        part = self.part_of(name[1])
        if name[0] == "load":
            keys = FittedPart(name[1], part, {}).load_keys
            return part.inside[next(i for i, key in keys.items() if key == name[1:])]
        element = part.inside[int(name[2])]
        return fuse_as_fitted(self.loom, name[1], element) if isinstance(element, Fuse) else element

    @cached_property
    def fuses(self) -> Mapping[int, tuple[str, Fuse]]:
        """Every fuse by its branch, with the address behind it; also those of feeds at the loom's edge."""
        found: dict[int, tuple[str, Fuse]] = {}
        for index, branch in self.of_kind("fuse"):
            element = self.element(index)
            assert isinstance(element, Fuse)
            found[index] = (branch.b, element)
        for index, branch in self.of_kind("feed"):
            amps = self.loom.feeds[branch.a].fuse_amps
            if amps is not None:
                found[index] = (branch.a, Fuse(element="fuse", between=("in", "out"), amps=amps))
        return found

    def fuse_of_edge(self, index: int, sample: Sample) -> int | None:
        """The fuse of the feed at the loom's edge that a load's current comes from, if it has one."""
        feeds = {branch.a: feed for feed, branch in self.of_kind("feed") if feed in self.fuses}
        feed = feeds.get(self.path(index, sample)[0]) if feeds else None
        return feed if feed is not None and sample.is_closed(feed) else None

    @cached_property
    def legs(self) -> Mapping[str, Sequence[int]]:
        """The branches of each wire, leg by leg."""
        found: dict[str, list[int]] = {}
        for index, branch in self.of_kind("wire"):
            found.setdefault(branch.name[1], []).append(index)
        return found

    @cached_property
    def loaded_wires(self) -> dict[tuple[str, int], frozenset[str]]:
        """Which wires of a bundle are loaded in a sample, as far as anybody asked; by its name and ``id``."""
        return {}

    @cached_property
    def wire_limits(self) -> dict[tuple[str, int, int], Published]:
        """What a wire's leg carries for good beside so many that are loaded, as far as anybody asked."""
        return {}

    @cached_property
    def _by_kind(self) -> Mapping[str, list[tuple[int, Branch]]]:
        found: dict[str, list[tuple[int, Branch]]] = {}
        for index, gated in enumerate(self.survey.grid.branches):
            found.setdefault(gated.kind, []).append((index, gated.branch))
        return found

    def of_kind(self, kind: str) -> Sequence[tuple[int, Branch]]:
        """The branches of one kind with their index."""
        return self._by_kind.get(kind, ())
