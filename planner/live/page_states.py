"""The states of a job's two looms, put together for a page."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any

from planner.circuit.factor import Store
from planner.circuit.network import EARTH, node_of
from planner.circuit.states import Group, is_present
from planner.circuit.tree import Function, Projector
from planner.live.controls import live_controls
from planner.live.diagrams import Diagrams, ending_function
from planner.live.flows import Flows
from planner.live.parts import Parts
from planner.model.catalogue import Catalogue
from planner.model.loom import Loom
from planner.model.page_states import LiveGroup, LiveRow, Look, PageStates
from planner.model.wording import address_words, colour_words
from planner.proof.behaviour import Behaviour, View
from planner.proof.hazards import label_words

LIVE, EARTHED, THROUGH = "live", "earth", "live through a load"
BOTH, NEITHER = "live and earth", "neither"
ALARMS = ("short", "tie", "unsettled")


def page_states(
    before: Loom, after: Loom, catalogue: Catalogue, shown: Callable[[str], str] = str
) -> PageStates:
    """Everything that a page looks up; ``shown`` says what people call a wire.

    Raises TooLargeError if a block of the circuit has more positions than can be solved with exact currents.
    """
    return _Builder(before, after, catalogue, shown).build()


class _Side:
    """One loom: its view, and what of it was written down."""

    def __init__(self, loom: Loom, catalogue: Catalogue, store: Store, projector: Projector) -> None:
        self.loom = loom
        self.addresses = _addresses(loom, catalogue)
        self.legs = dict(_legs(loom))
        watched = frozenset((*map(node_of, self.addresses), *self.legs.values()))
        self.view = View(loom, catalogue, store, projector, watched)
        self.parts = Parts(self.view.states)

    def potential(self, node: str) -> Function:
        """What a node is joined to, as a function of all variables."""
        projector = self.view.projector
        parts = [self.view.states.function(is_present, k, node) for k in ("live", "zero", "volt")]
        codes = projector.combine(parts[0], projector.combine(parts[1], parts[2], _pair), _pair)
        return projector.apply(codes, _potential_word)


class _Builder:
    """Writes both sides into one table."""

    def __init__(self, before: Loom, after: Loom, catalogue: Catalogue, shown: Callable[[str], str]) -> None:
        self.projector, self.shown = Projector(), shown
        store = Store(before.supply.live_volts)
        same = after.supply.live_volts == before.supply.live_volts
        self.before = _Side(before, catalogue, store, self.projector)
        other = store if same else store.at_volts(after.supply.live_volts)
        self.after = _Side(after, catalogue, other, self.projector)
        self.table = Diagrams()
        self.groups: list[LiveGroup] = []
        self._known: dict[object, int] = {}

    def build(self) -> PageStates:
        """All of it; what is written first has the lowest numbers, so equal looms give equal tables."""
        controls = tuple(live_controls(self.before.view, self.after.view, self.table))
        loads = tuple(self._rows(self._loads, self._load_title))
        terminals = tuple(self._rows(self._terminals, address_words))
        wires = tuple(self._rows(self._wires, self._leg_title))
        potentials = tuple(self._rows(self._potentials, self._leg_title))
        alarms = tuple(self._rows(self._alarms, _alarm_title))
        names = {
            number: name
            for side in (self.before, self.after)
            for number, name in side.view.states.names.items()
        }
        return PageStates(
            tuple(self.table.words),
            tuple(self.table.nodes),
            tuple(names[number] for number in self.table.variables),
            tuple(self.table.endings),
            tuple(self.groups),
            controls,
            loads,
            terminals,
            wires,
            potentials,
            alarms,
        )

    # -- what is seen ----------------------------------------------------------------------------------------

    def _rows(
        self,
        look_at: Callable[[_Side], Iterable[tuple[str, str, Look]]],
        title: Callable[[Loom, str], str],
    ) -> Iterator[LiveRow]:
        old, new = (
            {name: (kind, look) for name, kind, look in look_at(s)} for s in (self.before, self.after)
        )
        for name in dict.fromkeys((*old, *new)):
            side = self.after if name in new else self.before
            kind = (new.get(name) or old[name])[0]
            looks = [found[name][1] if name in found else None for found in (old, new)]
            yield LiveRow(name, title(side.loom, name), looks[0], looks[1], kind)

    def _loads(self, side: _Side) -> Iterator[tuple[str, str, Look]]:
        behaviours: Mapping[tuple[str, str], Behaviour] = {**side.view.loads, **side.view.cams}
        for (place, does), behaviour in behaviours.items():
            yield f"{place}/{does}", behaviour.kind, self._look(behaviour.function, behaviour.group)

    def _terminals(self, side: _Side) -> Iterator[tuple[str, str, Look]]:
        for address in side.addresses:
            yield address, "", self._apart(side, side.potential(node_of(address)))

    def _wires(self, side: _Side) -> Iterator[tuple[str, str, Look]]:
        for wire, leg, carried in Flows(side.view).legs():
            yield f"{wire}/{leg}", "", self._apart(side, carried)

    def _potentials(self, side: _Side) -> Iterator[tuple[str, str, Look]]:
        for name, node in side.legs.items():
            yield name, "", self._apart(side, side.potential(node))

    def _alarms(self, side: _Side) -> Iterator[tuple[str, str, Look]]:
        for name, behaviour in side.view.events.items():
            if name[0] in ALARMS:
                function = self.projector.apply(behaviour.function, _alarm_word)
                yield " ".join(map(str, name)), str(name[0]), self._look(function, behaviour.group)

    def _apart(self, side: _Side, function: Function) -> Look:
        """The look of what no proof compares: groups that do not move one another are looked up apart."""
        return self._look(function, *side.parts.of(function.support))

    def _look(self, function: Function, *groups: Group) -> Look:
        numbers = tuple(self._group(group) for group in groups if group.hidden)
        return Look(self.table.reference(function), numbers)

    def _group(self, group: Group) -> int:
        identity = (group.hidden, *group.identity)
        if identity not in self._known:
            self._known[identity] = len(self.groups)
            self.groups.append(
                LiveGroup(
                    tuple(map(self.table.variable, group.hidden)),
                    tuple(map(self.table.variable, group.controls)),
                    tuple(index in group.beats for index in range(len(group.hidden))),
                    self.table.reference(ending_function(group, self.projector)),
                )
            )
        return self._known[identity]

    # -- what it is called -----------------------------------------------------------------------------------

    def _load_title(self, loom: Loom, name: str) -> str:
        place, _, does = name.partition("/")
        return f"{does}: {loom.place_title(place)}"

    def _leg_title(self, loom: Loom, name: str) -> str:
        wire, _, leg = name.rpartition("/")
        record, number = loom.find(wire), int(leg)
        ends = [_end_words(loom, end.at) for end in record.ends[number : number + 2]]
        return f"{self.shown(wire)} {colour_words(record.leg_colour(number))}: {ends[0]} to {ends[1]}"


def _end_words(loom: Loom, at: str) -> str:
    return {"loose": "a loose end", "unknown": "an end nobody knows"}.get(at) or address_words(loom, at)


def _addresses(loom: Loom, catalogue: Catalogue) -> list[str]:
    """Every terminal, feed and joint of a loom; the body is always earth."""
    found = dict.fromkeys(loom.feeds)
    for place, fitted in loom.places.items():
        found |= dict.fromkeys(f"{place}:{mark}" for mark in catalogue.parts[fitted.part].terminals)
    found |= dict.fromkeys(
        end.at for wire in loom.wires for end in wire.ends if end.at not in ("loose", "unknown")
    )
    return [address for address in found if node_of(address) != EARTH]


def _legs(loom: Loom) -> Iterator[tuple[str, str]]:
    """Yield each leg, ``wire/leg``, with the node that it begins at."""
    for wire in loom.wires:
        for number, end in enumerate(wire.ends[:-1]):
            is_open = end.at in ("loose", "unknown")
            yield f"{wire.wire}/{number}", f"end:{wire.wire}:{number}" if is_open else node_of(end.at)


def _alarm_title(loom: Loom, name: str) -> str:
    kind, *labels = name.split(" ")
    if kind == "unsettled":
        return "A network with diodes finds no operating point"
    words = " and ".join(label_words(label, loom) for label in labels)
    return f"Short to earth at {words}" if kind == "short" else f"Tied together: {words}"


def _pair(first: object, second: object) -> object:
    return (first, second)


def _potential_word(code: Any) -> object:
    live, (zero, volts) = code
    if live and zero:
        return BOTH
    return LIVE if live else EARTHED if zero else THROUGH if volts else NEITHER


def _alarm_word(is_there: object) -> object:
    return "there" if is_there else "not there"
