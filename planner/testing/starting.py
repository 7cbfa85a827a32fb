"""When a starter comes in, by what hands and the vehicle set, whatever relays lie between."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import product
from math import prod

from planner.circuit.fitted import LoadKey
from planner.currents.checks.inspection import Inspection
from planner.currents.positions import Positions
from planner.currents.sample import Sample
from planner.messages import tr
from planner.model.elements import Coil
from planner.model.loom import split_address
from planner.model.part import Part
from planner.proof.condition import shortest_condition
from planner.proof.facts import MOST_SETTINGS_IN_WORDS, place_titles
from planner.proof.words import say
from planner.testing.fuse_ways import FuseWays

_STARTER_CONTROL = "50"  # DIN 72552
Row = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Starter:
    """A starter, and what lets it in."""

    place: str
    controls: tuple[str, ...]  # what has a say in it, by name
    when: str  # it cranks, in words
    is_all: bool  # every one of them has to be set so: one that is not keeps it dead
    places: frozenset[str]  # on its way, and on the ways of the relays that let it on


def starters(seen: Inspection) -> Iterator[Starter]:
    """Yield each starter that something lets in."""
    for place, fitted in seen.loom.places.items():
        for _, index in starter_controls(seen.catalogue.parts[fitted.part]):
            key = (place, f"#{index}")
            if key in seen.survey.positions.loads:
                yield from _starter(seen, key)


def _starter(seen: Inspection, key: LoadKey) -> Iterator[Starter]:
    """Yield when one coil comes in; nothing where that is always or never."""
    positions = seen.survey.positions
    names, variables = positions.view.states.names, positions.view.net.variables
    titles = place_titles(seen.loom, positions.view.net)
    places = frozenset(_places(seen, key))
    scope = _visible(positions, key)
    if prod(positions.sizes[number] for number in scope) > MOST_SETTINGS_IN_WORDS:
        told = tr("with its key or push, where nothing else keeps it dead")
        yield Starter(key[0], tuple(sorted(names[n] for n in scope)), told, is_all=False, places=places)
        return
    cranks = _cranks(positions, key, scope)
    deciding = [i for i in range(len(scope)) if _decides(cranks, i)]
    rows = {tuple(row[i] for i in deciding) for row, comes_in in cranks.items() if comes_in}
    if not rows or not deciding:
        return
    own = {names[scope[i]]: variables[names[scope[i]]].values for i in deciding}
    labels = [tuple(v[n] for v, n in zip(own.values(), row, strict=True)) for row in sorted(rows)]
    each = [{row[i] for row in rows} for i in range(len(deciding))]
    yield Starter(
        key[0],
        tuple(sorted(own)),
        say(shortest_condition(own, labels), titles),
        is_all=len(rows) == prod(map(len, each)),
        places=places | {name.rpartition("/")[0] for name in own} - {""},
    )


def _visible(positions: Positions, key: LoadKey) -> Row:
    """What hands and the vehicle set of all that a coil hangs on, also by relays."""
    states, scope = positions.view.states, set(positions.loads[key].scope)
    return tuple(sorted((scope - states.hidden) | set(states.group(frozenset(scope)).controls)))


def _cranks(positions: Positions, key: LoadKey, scope: Row) -> Mapping[Row, bool]:
    """Whether a coil is in at some time, in each setting: a relay that stays in by itself may keep it so."""
    states = positions.view.states
    group = states.group(frozenset(positions.loads[key].scope))
    lasting: dict[Row, list[Row]] = {}
    for setting, state in group.lasting:
        lasting.setdefault(setting, []).append(state)

    def comes_in(row: Row) -> bool:
        setting = dict(zip(scope, row, strict=True))
        return any(
            positions.is_full(
                key, positions.row_of(key, {**setting, **dict(zip(group.hidden, state, strict=True))})
            )
            for state in lasting.get(tuple(setting[c] for c in group.controls), ())
        )

    return {row: comes_in(row) for row in product(*(range(positions.sizes[n]) for n in scope))}


def _decides(cranks: Mapping[Row, bool], index: int) -> bool:
    """Whether one variable has a say: some setting differs by it alone."""
    return any(cranks[row] != cranks[(*row[:index], 0, *row[index + 1 :])] for row in cranks)


def starter_controls(part: Part) -> Iterator[tuple[str, int]]:
    """Yield the terminals that work a starter, each with the number of its coil among the elements."""
    for index, element in enumerate(part.inside):
        if isinstance(element, Coil):
            for node in element.between:
                if node in part.terminals and part.terminals[node].role == _STARTER_CONTROL:
                    yield node, index


def places_feeding(seen: Inspection, key: LoadKey) -> set[str]:
    """The places through which a load or a coil is fed, its own among them."""
    ways = (_places_of_way(seen, key, sample) for sample in seen.survey.alone.get(key, ()))
    return {key[0]}.union(*ways)


def _places(seen: Inspection, key: LoadKey) -> set[str]:
    """The places through which a coil is fed, and the coils of the relays that let it on."""
    ways, armatures = FuseWays(seen), seen.survey.positions.view.net.armatures
    found = places_feeding(seen, key)
    for sample in seen.survey.alone.get(key, ()):
        for name in ways.letting_on(key, sample):
            found |= _places_of_way(seen, armatures[name].load, sample)
    return found


def _places_of_way(seen: Inspection, key: LoadKey, sample: Sample) -> set[str]:
    grid = seen.survey.grid
    branches = (grid.branches[number].branch for number in seen.way_to(grid.loads[key], sample))
    return {key[0], *(split_address(node)[0] for branch in branches for node in (branch.a, branch.b))}
