"""The states of a job's two looms, put together for a page."""

from collections.abc import Callable, Iterable, Iterator, Mapping

from planner.circuit.hidden_group import Group
from planner.circuit.network import node_of
from planner.circuit.store import Store
from planner.circuit.tree import Function, Projector
from planner.live.controls import live_controls
from planner.live.diagrams import Diagrams, ending_function
from planner.live.flows import Flows
from planner.live.side import Side
from planner.messages import tr
from planner.model.catalogue import Catalogue
from planner.model.loom import Loom
from planner.model.page_states import LiveGroup, LiveRow, Look, PageStates
from planner.model.wording import address_words, colour_words, task_words
from planner.problems import TooLargeError
from planner.proof.behaviour import Behaviour
from planner.proof.hazards import label_words, ties_sources

ALARMS = ("short", "tie", "unsettled")
MOST_LEAVES = 1 << 12  # operating points of one block with exact currents: more would make too large a page


def page_states(
    before: Loom, after: Loom, catalogue: Catalogue, shown: Callable[[str], str] = str
) -> PageStates:
    """Everything that a page looks up; ``shown`` says what people call a wire.

    Where a block has more positions than can be solved with exact currents, only loads are shown: they are
    found as the proof finds them. Raises TooLargeError where the proof does.
    """
    volts = before.supply.live_volts
    try:
        return _Builder(before, after, catalogue, shown, Store(volts, most_leaves=MOST_LEAVES)).build()
    except TooLargeError:
        return _Builder(before, after, catalogue, shown, Store(volts, by_class=True)).build()


class _Builder:
    """Writes both sides into one table."""

    def __init__(
        self, before: Loom, after: Loom, catalogue: Catalogue, shown: Callable[[str], str], store: Store
    ) -> None:
        self.projector, self.shown = Projector(), shown
        self.is_exact = not store.by_class
        same = after.supply.live_volts == before.supply.live_volts
        self.before = Side(before, catalogue, store, self.projector)
        other = store if same else store.at_volts(after.supply.live_volts)
        self.after = Side(after, catalogue, other, self.projector)
        self.table = Diagrams()
        self.groups: list[LiveGroup] = []
        self._known: dict[object, int] = {}

    def build(self) -> PageStates:
        """All of it; what is written first has the lowest numbers, so equal looms give equal tables."""
        controls = tuple(live_controls(self.before.view, self.after.view, self.table))
        loads = tuple(self._rows(self._loads, self._load_title))
        terminals = tuple(self._rows(self._terminals, address_words)) if self.is_exact else ()
        wires = tuple(self._rows(self._wires, self._leg_title)) if self.is_exact else ()
        potentials = tuple(self._rows(self._potentials, self._leg_title)) if self.is_exact else ()
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
            ()
            if self.is_exact
            else (tr("One block of this circuit is too large: only its loads are shown."),),
        )

    # -- what is seen ----------------------------------------------------------------------------------------

    def _rows(
        self,
        look_at: Callable[[Side], Iterable[tuple[str, str, Look]]],
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

    def _loads(self, side: Side) -> Iterator[tuple[str, str, Look]]:
        behaviours: Mapping[tuple[str, str], Behaviour] = {**side.view.loads, **side.view.cams}
        for (place, does), behaviour in behaviours.items():
            yield f"{place}/{does}", behaviour.kind, self._look(behaviour.function, behaviour.group)

    def _terminals(self, side: Side) -> Iterator[tuple[str, str, Look]]:
        for address in side.addresses:
            yield address, "", self._apart(side, side.potential(node_of(address)))

    def _wires(self, side: Side) -> Iterator[tuple[str, str, Look]]:
        for wire, leg, carried in Flows(side.view).legs():
            yield f"{wire}/{leg}", "", self._apart(side, carried)

    def _potentials(self, side: Side) -> Iterator[tuple[str, str, Look]]:
        for name, node in side.legs.items():
            yield name, "", self._apart(side, side.potential(node))

    def _alarms(self, side: Side) -> Iterator[tuple[str, str, Look]]:
        for name, behaviour in side.view.events.items():
            if name[0] in ALARMS and not ties_sources(name):
                function = self.projector.apply(behaviour.function, _alarm_word)
                yield " ".join(map(str, name)), str(name[0]), self._look(function, behaviour.group)

    def _apart(self, side: Side, function: Function) -> Look:
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
        return f"{task_words(does)}: {loom.place_title(place)}"

    def _leg_title(self, loom: Loom, name: str) -> str:
        wire, _, leg = name.rpartition("/")
        record, number = loom.find(wire), int(leg)
        ends = [address_words(loom, end.at, self.shown) for end in record.ends[number : number + 2]]
        return tr(
            "{wire} {colour}: {one} to {other}",
            wire=self.shown(wire),
            colour=colour_words(record.leg_colour(number)),
            one=ends[0],
            other=ends[1],
        )


def _alarm_title(loom: Loom, name: str) -> str:
    kind, *labels = name.split(" ")
    if kind == "unsettled":
        return tr("A network with diodes finds no operating point")
    words = tr(" and ").join(label_words(label, loom) for label in labels)
    if kind == "short":
        return tr("Short to earth at {what}", what=words)
    return tr("Tied together: {what}", what=words)


def _alarm_word(is_there: object) -> object:
    return "there" if is_there else "not there"
