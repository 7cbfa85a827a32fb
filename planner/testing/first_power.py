"""First power: what a lamp in series with the battery does with one fuse in, and with each load behind it on.

Computed for the vehicle as it should be: the lamp carries all that leaves the battery. A relay or a flasher
gets too few volts behind it, so of what they switch nothing is foretold. Breaker points stand open while
other loads are tried: closed ones would light the lamp, whatever else is on.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace

from planner.circuit.appearance import judge_load
from planner.circuit.fitted import FittedPart, LoadKey
from planner.currents.checks.inspection import Inspection
from planner.currents.checks.loads import is_ammeter
from planner.currents.grid import BODY, Position
from planner.currents.laws import Filament
from planner.currents.sample import Sample
from planner.currents.solver import Branch
from planner.messages import tr
from planner.model.bench_sheet import FIRST_POWER_WATTS, FedLoad, FuseTest
from planner.model.breaker_points import opened_points
from planner.model.elements import Coil
from planner.proof.facts import place_titles, short_titles
from planner.testing.page.points import solve_sets
from planner.testing.page.setups import BY_ITSELF

_LAMP = ("lamp in series",)
_HELD = ("stabiliser", "held")
_NO_AMPS = 1e-6
_NODE = "lamp in series"  # between the earthed pole of the battery and the lamp


def with_lamp(
    seen: Inspection, tests: Sequence[FuseTest], left_off: Collection[str] = ()
) -> tuple[FuseTest, ...]:
    """The tests of first power with what the lamp does, if it can carry everything, and what can answer.

    ``left_off`` are the places whose feed is taken off before the battery goes on.
    """
    lamp = _Lamp(seen)
    answering = tuple(_answering(seen, _by_fuse(lamp, tests), left_off))
    return tuple(lamp.told(answering)) if lamp.carries_all else answering


def _answering(seen: Inspection, tests: Sequence[FuseTest], left_off: Collection[str]) -> Iterator[FuseTest]:
    """Yield the tests without the loads that work in no position with the engine off.

    What the job has lost has not to answer, be its way open or its relay given too few volts to pull in; nor
    has an ammeter, which shows the others.
    """
    never = seen.survey.positions.view.never_working
    for test in tests:
        loads = tuple(
            load
            for load in test.loads
            if load.key in seen.survey.alone
            and load.key not in never
            and load.key[0] not in left_off
            and not is_ammeter(seen.element(seen.survey.grid.loads[load.key]))
        )
        if loads or test.at:
            yield replace(test, loads=loads)


def _by_fuse(lamp: "_Lamp", tests: Sequence[FuseTest]) -> tuple[FuseTest, ...]:
    """The tests with each load behind a flasher or a diode at every fuse that feeds it in some setting.

    Joints alone do not show it: what a flasher or diode lets through is no joint. A turn lamp is fed by one
    fuse with the key on, by another with the hazard switch on: then it is said with what each does it.
    """
    known = {test.at for test in tests if test.at}
    more: dict[str, list[FedLoad]] = {}
    for load in (load for test in tests if not test.at for load in test.loads):
        fuses = lamp.fuses_feeding(load.key)
        for at in fuses if fuses <= known else {""}:
            own = load
            if len(fuses) > 1 and at:
                with_what = lamp.settings(load.key, at)
                own = replace(load, text=tr("{load} with {settings}", load=load.text, settings=with_what))
            more.setdefault(at, []).append(own)
    return tuple(
        replace(test, loads=(*(test.loads if test.at else ()), *more.get(test.at, ()))) for test in tests
    )


def _coils(seen: Inspection) -> Iterator[LoadKey]:
    """Yield the coils of relays."""
    for place, fitted in seen.loom.places.items():
        part = seen.catalogue.parts[fitted.part]
        for number, key in FittedPart(place, part, {}).load_keys.items():
            if isinstance(part.inside[number], Coil):
                yield key


class _Lamp:
    """A lamp in series with the battery of one vehicle."""

    def __init__(self, seen: Inspection) -> None:
        self.seen, self.grid, self.loom = seen, seen.survey.grid, seen.loom
        volts = self.loom.supply.volts
        law = Filament(volts, FIRST_POWER_WATTS / volts)
        self.rated_amps = law.rated_amps
        self.opened = opened_points(self.loom, seen.catalogue.parts)
        batteries = [g.branch for g in self.grid.branches if g.kind == "source" and not g.guard]
        self.poles = {battery.b for battery in batteries} or {BODY}  # the earthed ones
        self.lamp = Branch(_LAMP, _NODE, min(self.poles), law)
        self.sources = {
            index: gated.branch._replace(b=_NODE)
            for index, gated in enumerate(self.grid.branches)
            if gated.kind == "feed" or (gated.kind == "source" and not gated.guard)
        }
        self.coils = [self.grid.loads[key] for key in _coils(seen) if key in self.grid.loads]
        self.fuses: Mapping[int, str] = {
            index: gated.branch.name[1] if gated.kind == "feed" else gated.branch.b
            for index, gated in enumerate(self.grid.branches)
            if gated.kind == "fuse"
            or (gated.kind == "feed" and self.loom.feeds[gated.branch.name[1]].fuse_amps)
        }

    @property
    def carries_all(self) -> bool:
        """Whether all batteries have one earthed pole: else some current goes by another way."""
        return len(self.poles) == 1

    def told(self, tests: Sequence[FuseTest]) -> Iterator[FuseTest]:
        """Yield each test with what the lamp does at rest and with each load on."""
        rest, titles = self.seen.rest_sample, {test.at: test.text for test in tests if test.at}
        fuses = [self._in(test) for test in tests]
        on = [[self._on(load.key, test.at) for load in test.loads] for test in tests]
        asked = []
        for test, own, samples in zip(tests, fuses, on, strict=True):
            asked.append((own, rest.position))
            asked += [
                (own, self._with_open_points(load.key, sample))
                for load, sample in zip(test.loads, samples, strict=True)
                if sample is not None
            ]
        shows = iter(self._shows(asked))
        for test, own, samples in zip(tests, fuses, on, strict=True):
            also = [title for at, title in titles.items() if at in own and at != test.at] if test.at else []
            yield replace(
                test,
                lamp=next(shows),
                with_fuses=tuple(also),
                loads=tuple(
                    load if sample is None else self._lit(load, sample, next(shows))
                    for load, sample in zip(test.loads, samples, strict=True)
                ),
            )

    def fuses_feeding(self, key: LoadKey) -> frozenset[str]:
        """The last fuses on the way to a load, in all settings in which it works; "" is one with none."""
        own = self.seen.survey.alone.get(key, ())
        found = {self._last_fuse(key, sample) for sample in own if not sample.is_generating}
        return frozenset(found or {""})

    def settings(self, key: LoadKey, at: str) -> str:
        """What is set so that a load works by one of its fuses, in words."""
        net, sample = self.seen.survey.positions.view.net, self._least(key, at)
        titles, rest = place_titles(self.loom, net), self.seen.rest_sample.position
        gating = {name for feed in self.loom.feeds.values() for name in feed.when}
        hands = [name for name in net.controls if "/" in name or name in gating]  # no points, no oil, no tank
        moved = {name: sample.position[name] for name in hands if sample.position[name] != rest[name]}
        return tr(" and ").join(f"{titles[name]} {value}" for name, value in moved.items())

    def _last_fuse(self, key: LoadKey, sample: Sample) -> str:
        on_way, fed = self._fuses_to(self.grid.loads[key], sample)
        return (on_way or fed or [""])[-1]

    def _fuses_to(self, index: int, sample: Sample) -> tuple[list[str], list[str]]:
        """The fuses on the way to a load, and those of the feeds at the loom's edge that it comes from."""
        way = self.seen.way_to(index, sample)
        on_way = [self.fuses[index] for index in way if index in self.fuses]
        ends = (node for index in way for node in self.grid.branches[index].branch[1:3])
        return on_way, [node for node in ends if node in self.loom.feeds and self.loom.feeds[node].fuse_amps]

    def _in(self, test: FuseTest) -> frozenset[str]:
        """The fuses that are in: it, and those on the way to its loads and to the coils that let them on.

        All where none is named.
        """
        if not test.at:
            return frozenset(self.fuses.values())
        before = {test.at}
        for load in test.loads:
            if load.key in self.seen.survey.alone:
                sample = self._least(load.key, test.at)
                for index in (self.grid.loads[load.key], *self._pulled(sample)):
                    on_way, fed = self._fuses_to(index, sample)
                    before |= {*on_way, *fed}
        return frozenset(before)

    def _pulled(self, sample: Sample) -> Iterator[int]:
        """Yield the coils that have their feed while a load is on: one of them lets it through."""
        for index in self.coils:
            if sample.is_closed(index) and abs(sample.amps[index]) > _NO_AMPS:
                yield index

    def _least(self, key: LoadKey, at: str) -> Sample:
        """A load on its own, by one of its fuses if that feeds it, with as little held as can be."""
        own = self.seen.survey.alone[key]
        by_it = [sample for sample in own if at and self._last_fuse(key, sample) == at]
        return min(by_it or own, key=lambda sample: (sample.is_generating, sample.held))

    def _on(self, key: LoadKey, at: str) -> Sample | None:
        """A load on its own; None where a relay, a flasher or the engine has to do with it."""
        if key not in self.seen.survey.alone or key not in self.grid.loads:
            return None
        sample, net = self._least(key, at), self.seen.survey.positions.view.net
        rest = self.seen.rest_sample.position
        moved = {name for name, value in sample.position.items() if value != rest[name]}
        is_plain = moved <= set(net.controls) and not sample.is_generating
        return sample if is_plain else None

    def _lit(self, load: FedLoad, sample: Sample, lamp: str) -> FedLoad:
        """A load with what the lamp does, and how a stepping relay has to stand, which may be left otherwise.

        It gets too few volts behind the lamp to be stepped on.
        """
        positions = self.seen.survey.positions
        net, numbers = positions.view.net, positions.view.variable_number
        shorts = short_titles(self.loom)
        words = []
        for name, variable in net.variables.items():
            if variable.kind == "step" and name in numbers:
                states = range(len(variable.values))
                others = ({**sample.assignment, numbers[name]: state} for state in states)
                if not all(positions.is_full(load.key, positions.row_of(load.key, own)) for own in others):
                    title = shorts.get(name.rpartition("/")[0], name)
                    words.append(tr("the {place} is at {value}", place=title, value=sample.position[name]))
        if not words:
            return replace(load, lamp=lamp)
        text = tr("{load} if {stands}", load=load.text, stands=tr(" and ").join(words))
        return replace(load, lamp=lamp, text=text)

    def _with_open_points(self, key: LoadKey, sample: Sample) -> Position:
        """A load on its own beside open points and a cold engine, unless it works with others only."""
        positions = self.seen.survey.positions
        variables, numbers = positions.view.net.variables, positions.view.variable_number
        opened = {
            numbers[n]: 0 for n, own in variables.items() if n in numbers and own.values[0] in BY_ITSELF
        }
        opened |= {
            numbers[name]: variables[name].values.index(value)
            for name, value in self.opened.items()
            if name in numbers
        }
        beside = {**sample.assignment, **opened}
        works = positions.is_full(key, positions.row_of(key, beside))
        return positions.labels(beside) if works else sample.position

    def _shows(self, asked: Sequence[tuple[frozenset[str], Position]]) -> Iterator[str]:
        """Yield how the lamp appears with some fuses in, in each position."""
        sets = [
            [
                *(self.sources.get(index, self.grid.bare[index]) for index in self._closed(fuses, position)),
                self.lamp,
            ]
            for fuses, position in asked
        ]
        judge = judge_load("lamp", self.rated_amps)
        for point in solve_sets(sets, self.grid.zero):
            yield str(judge(abs(point.amps[-1])))

    def _closed(self, fuses: frozenset[str], position: Position) -> list[int]:
        """The branches that are closed; what holds a stabiliser's volts down is no current that it takes."""
        there = [index for index in self.grid.closed(position) if self.grid.bare[index].name[::3] != _HELD]
        return [index for index in there if index not in self.fuses or self.fuses[index] in fuses]
