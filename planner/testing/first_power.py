"""First power: what a lamp in series with the battery does with one fuse in, and with each load behind it on.

Computed for the vehicle as it should be: the lamp carries all that leaves the battery. A flasher gets too
few volts behind it, so of what it switches nothing is foretold; a relay may, so what it lets on is foretold
for the case that it pulls in. Breaker points stand open while other loads are tried: closed ones would light
the lamp, whatever else is on.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from planner.circuit.appearance import judge_load
from planner.circuit.fitted import LoadKey
from planner.currents.checks.inspection import Inspection
from planner.currents.checks.loads import is_ammeter
from planner.currents.grid import BODY, Position
from planner.currents.laws import Filament
from planner.currents.sample import Sample
from planner.currents.solver import Branch
from planner.messages import later, tr
from planner.model.bench_sheet import FIRST_POWER_WATTS, FedLoad, FuseTest
from planner.model.breaker_points import opened_points
from planner.model.wording import address_words
from planner.proof.facts import short_titles
from planner.testing.fuse_ways import FuseWays
from planner.testing.page.points import solve_sets
from planner.testing.page.setups import BY_ITSELF

_UNSHOWN = later(
    "With all fuses in: what is fed through a fuse that this loom does not show, or through none"
)
_STARTERS = "starter"  # their family
_LAMP = ("lamp in series",)
_NODE = "lamp in series"  # between the earthed pole of the battery and the lamp


def with_lamp(
    seen: Inspection, tests: Sequence[FuseTest], left_off: Collection[str] = ()
) -> tuple[FuseTest, ...]:
    """The tests of first power with what the lamp does, if it can carry everything, and what can answer.

    ``left_off`` are the places whose feed is taken off before the battery goes on.
    """
    lamp = _Lamp(seen)
    answering = tuple(_with_unshown(seen, lamp.ways, _answering(seen, _by_fuse(lamp.ways, tests), left_off)))
    fuses = [lamp.ways.needed(test) for test in answering]
    timely = read_in_time(answering, fuses)
    return tuple(lamp.told(timely, fuses)) if lamp.carries_all else tuple(timely)


def _with_unshown(seen: Inspection, ways: FuseWays, tests: Iterable[FuseTest]) -> Iterator[FuseTest]:
    """Yield the tests with the feeds that need a fuse which the loom does not show.

    What is fed past all fuses and what one feeds that nobody has drawn are tests of their own.
    """
    for test in tests:
        if test.at:
            yield replace(test, unshown=tuple(address_words(seen.loom, f) for f in ways.unshown(test)))
            continue
        own = [(load, ways.unshown(replace(test, loads=(load,)))) for load in test.loads]
        past = tuple(load for load, feeds in own if not feeds)
        if past:
            yield replace(test, loads=past)
        if len(past) < len(own):
            yield replace(test, text=tr(_UNSHOWN), loads=tuple(load for load, feeds in own if feeds))


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


def _by_fuse(ways: FuseWays, tests: Sequence[FuseTest]) -> tuple[FuseTest, ...]:
    """The tests with each load behind a flasher or a diode at every fuse that feeds it in some setting.

    Joints alone do not show it: what a flasher or diode lets through is no joint. A turn lamp is fed by one
    fuse with the key on, by another with the hazard switch on: then it is said with what each does it.
    """
    known = {test.at for test in tests if test.at}
    more: dict[str, list[FedLoad]] = {}
    for load in (load for test in tests if not test.at for load in test.loads):
        fuses = ways.feeding(load.key)
        for at in fuses if fuses <= known else {""}:
            own = load
            if len(fuses) > 1 and at:
                with_what = ways.settings(load.key, at)
                own = replace(load, text=tr("{load} with {settings}", load=load.text, settings=with_what))
            more.setdefault(at, []).append(own)
    return tuple(
        replace(test, loads=(*(test.loads if test.at else ()), *more.get(test.at, ()))) for test in tests
    )


class _Lamp:
    """A lamp in series with the battery of one vehicle."""

    def __init__(self, seen: Inspection) -> None:
        self.seen, self.grid, self.loom, self.ways = seen, seen.survey.grid, seen.loom, FuseWays(seen)
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

    @property
    def carries_all(self) -> bool:
        """Whether all batteries have one earthed pole: else some current goes by another way."""
        return len(self.poles) == 1

    def told(self, tests: Sequence[FuseTest], fuses: Sequence[frozenset[str]]) -> Iterator[FuseTest]:
        """Yield each test with what the lamp does at rest and with each load on, with its ``fuses`` in."""
        rest, titles = self.seen.rest_sample, {test.at: test.text for test in tests if test.at}
        on = [[self._on(load.key, test.at) for load in test.loads] for test in tests]
        asked: list[tuple[frozenset[str], Position]] = []
        for own, samples in zip(fuses, on, strict=True):
            asked.append((own, rest.position))
            asked += [(own, position) for _, positions in samples for position in positions]
        shows = iter(self._shows(asked))
        for test, own, samples in zip(tests, fuses, on, strict=True):
            also = [title for at, title in titles.items() if at in own and at != test.at] if test.at else []
            lamp = next(shows)
            loads = [
                self._lit(load, sample, {next(shows) for _ in positions})
                for load, (sample, positions) in zip(test.loads, samples, strict=True)
            ]
            yield replace(test, lamp=lamp, with_fuses=tuple(also), loads=tuple(loads))

    def _on(self, key: LoadKey, at: str) -> tuple[Sample | None, tuple[Position, ...]]:
        """A load on its own, and where the lamp is looked at with it: nowhere if that is not foretold.

        That is so where a flasher, a cam or the engine has to do with it, and of a starter. A relay that has
        is looked at pulled; one that has not, and comes on with the same switch, pulled and released: behind
        the lamp it may do either.
        """
        if key not in self.seen.survey.alone or key not in self.grid.loads:
            return None, ()
        sample, positions = self.ways.least(key, at), self.seen.survey.positions
        rest, net = self.seen.rest_sample.position, positions.view.net
        moved = {name for name, value in sample.position.items() if value != rest[name]}
        letting = self.ways.letting_on(key, sample).keys()
        beside = (moved & net.armatures.keys()) - letting
        steps = {name for name, variable in net.variables.items() if variable.kind == "step"}
        if not moved - beside <= {*net.controls, *steps, *letting} or sample.is_generating:
            return None, ()
        if letting and self.seen.catalogue.parts[self.loom.places[key[0]].part].family == _STARTERS:
            return None, ()
        numbers = positions.view.variable_number
        released = {**sample.assignment, **{numbers[name]: 0 for name in beside}}
        assignments = [sample.assignment, released] if beside else [sample.assignment]
        return sample, tuple(self._with_open_points(key, own) for own in assignments)

    def _lit(self, load: FedLoad, sample: Sample | None, shows: Collection[str]) -> FedLoad:
        """A load with what the lamp does, if that is one thing, and how relays have to stand for it.

        A stepping one may be left otherwise, and gets too few volts behind the lamp to be stepped on; so may
        any other that has to pull in.
        """
        if sample is None or len(shows) != 1:
            return load
        (lamp,) = shows
        positions = self.seen.survey.positions
        net, numbers = positions.view.net, positions.view.variable_number
        shorts = short_titles(self.loom)
        letting = self.ways.letting_on(load.key, sample)
        pulling = dict.fromkeys(shorts.get(name.rpartition("/")[0], name) for name in letting)
        words = [tr("the {relay} pulls in", relay=relay) for relay in pulling]
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

    def _with_open_points(self, key: LoadKey, assignment: Mapping[int, int]) -> Position:
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
        beside = {**assignment, **opened}
        works = positions.is_full(key, positions.row_of(key, beside))
        return positions.labels(beside if works else assignment)

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
        there = [index for index in self.grid.closed(position) if not _is_held_down(self.grid.bare[index])]
        return [index for index in there if index not in self.ways.fuses or self.ways.fuses[index] in fuses]


def read_in_time(tests: Sequence[FuseTest], fuses: Sequence[Collection[str]]) -> list[FuseTest]:
    """The tests, each reading with the first at which its fuse is in; ``fuses`` are in at each of them."""
    waiting, found = {test.at: test for test in tests if test.at and test.read_first}, []
    for test, own in zip(tests, fuses, strict=True):
        due = [waiting.pop(at) for at in list(waiting) if at in own]
        reads = [
            read if other is test else tr("{fuse}: {read}", fuse=other.text, read=read)
            for other in due
            for read in other.read_first
        ]
        found.append(replace(test, read_first=(*reads, *(() if test.at else test.read_first))))
    return found


def _is_held_down(branch: Branch) -> bool:
    """Whether a branch is what holds the volts behind a stabiliser down."""
    return branch.name[0] == "stabiliser" and branch.name[-1] == "held"
