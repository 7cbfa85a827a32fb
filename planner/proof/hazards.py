"""What is unsafe: shorts, tied feeds, live loose ends, back-feeds, drain, chatter, dead positions."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from planner.circuit.fitted import Guard, LoadKey
from planner.circuit.network import Network
from planner.messages import tr
from planner.model.catalogue import Catalogue
from planner.model.drains import is_drain
from planner.model.fitted_fuse import fuse_words
from planner.model.loom import Loom
from planner.model.need import HazardKind
from planner.model.wording import address_words
from planner.proof.align import Alignment
from planner.proof.behaviour import Behaviour, View, is_on
from planner.proof.between import shorts_between_detents
from planner.proof.compare import Comparison
from planner.proof.paths import joints_of, nodes_on, shorting_path
from planner.proof.starts import Row


@dataclass(frozen=True, slots=True)
class Hazard:
    """Something unsafe, and every position in which it shows."""

    kind: HazardKind
    at: str  # address, or the control of a dead position
    detail: str
    names: tuple[str, ...]
    rows: frozenset[Row]
    possible: frozenset[Row]
    path: tuple[str, ...] = ()
    was_before: bool = False
    control: str | None = None
    duty: str = "none"  # of a dead position: which road function does nothing there

    def positions(self) -> list[Mapping[str, str]]:
        """The rows as mappings, in order."""
        return [dict(zip(self.names, row, strict=True)) for row in sorted(self.rows)]


class HazardFinder:
    """Finds every hazard of the loom after, and says which were there before.

    ``is_wanted_off`` tells whether the job wants a load off at a position of a control: that is not dead.
    """

    def __init__(
        self,
        comparison: Comparison,
        alignment: Alignment,
        catalogue: Catalogue,
        swapped: frozenset[str],
        is_wanted_off: Callable[[LoadKey, str, str], bool],
    ) -> None:
        self.comparison, self.alignment = comparison, alignment
        self.catalogue, self.swapped = catalogue, swapped
        self._is_wanted_off = is_wanted_off
        self.before, self.after = comparison.before, comparison.after
        self._belonging: dict[tuple[str, str, int], bool] = {}  # load and control: is it the control's own

    def find(self) -> Iterator[Hazard]:
        """Yield all hazards, new ones and old ones."""
        yield from self._events()
        yield from self._chatter()
        yield from self._drain()
        yield from self._dead_positions()
        yield from self._overlaps()

    def _events(self) -> Iterator[Hazard]:
        old_events = self.before.events
        for name, new in self.after.events.items():
            if name[0] in ("live", "volt") and not self._is_exposed(str(name[1])):
                continue  # watched for another reason: a flasher's supply
            if ties_sources(name):
                continue
            old = old_events.get(name)
            if old and new.is_same_as(old):
                if name[0] in ("short", "tie", "unsettled"):
                    yield self._existing(name, new)
                continue
            names = self.comparison.names_of(old, new)
            rows: set[Row] = set()
            possible: set[Row] = set()
            for setting in self.alignment.settings(names):
                if setting.after is None:
                    continue
                possible.add(setting.labels)
                if not any(new.appears(setting.after, s) is True for s in new.starts(setting.after)):
                    continue
                if (
                    setting.before is not None
                    and old
                    and any(old.appears(setting.before, s) is True for s in old.starts(setting.before))
                ):
                    continue
                if name[0] in ("live", "volt") and self._feed_is_on(str(name[1]), names, setting.labels):
                    continue
                rows.add(setting.labels)
            if rows:
                yield self._event(name, names, rows, possible)

    def _is_exposed(self, node: str) -> bool:
        """Whether a watched node can be touched: a loose end, a bare terminal, or a feed at the edge."""
        if node.startswith("end:") or node in self.after.loom.feeds:
            return True
        return ":" in node and "::" not in node and node not in self.after.loom.ends_at

    def _feed_is_on(self, node: str, names: tuple[str, ...], labels: Row) -> bool:
        """A feed at the edge that is on by itself is no hazard."""
        guard = _feed_guard(self.after.net, node)
        if guard is None:
            return False
        position = dict(zip(names, labels, strict=True))
        return all(position.get(variable) in values for variable, values in guard)

    def _event(
        self, name: tuple[object, ...], names: tuple[str, ...], rows: set[Row], possible: set[Row]
    ) -> Hazard:
        position = dict(zip(names, min(rows), strict=True))
        kind, at, detail, path = self._describe(name, position)
        return Hazard(kind, at, detail, names, frozenset(rows), frozenset(possible), path)

    def _existing(self, name: tuple[object, ...], behaviour: Behaviour) -> Hazard:
        names = self.comparison.names_of(behaviour, behaviour)
        rows: set[Row] = set()
        possible: set[Row] = set()
        for setting in self.alignment.settings(names):
            possible.add(setting.labels)
            after = setting.after or {}
            if any(behaviour.appears(after, s) is True for s in behaviour.starts(after)):
                rows.add(setting.labels)
        if not rows:  # possible by wiring, but no start state leads there
            rows = set()
        position = dict(zip(names, min(rows, default=()), strict=False))
        kind, at, detail, path = self._describe(name, position)
        return Hazard(kind, at, detail, names, frozenset(rows), frozenset(possible), path, was_before=True)

    def _describe(
        self, name: tuple[object, ...], position: Mapping[str, str]
    ) -> tuple[HazardKind, str, str, tuple[str, ...]]:
        net = self.after.net
        if name[0] == "short":
            label = str(name[1])
            detail = tr("protected by {what}", what=_protection(net, label, self.after.loom))
            return "short", label, detail, shorting_path(net, position)
        if name[0] == "tie":
            first, second = (label_words(str(label), self.after.loom) for label in name[1:3])
            return (
                "feeds-tied",
                str(name[2]),
                tr("{one} and {other} are tied together", one=first, other=second),
                (),
            )
        if name[0] == "unsettled":
            return "chatter", "", tr("a network with diodes finds no operating point"), ()
        node = str(name[1])
        joints = joints_of(net)
        path = nodes_on(joints.shortest(joints.live(position), {node}, position) or ())
        if node.startswith("end:"):
            return "live-loose-end", node, tr("a loose end that is live"), path
        if node in self.after.loom.feeds:
            return "back-feed", node, tr("fed from elsewhere while it should be dead"), path
        return "bare-live-terminal", node, tr("a bare terminal that is live"), path

    def _chatter(self) -> Iterator[Hazard]:
        old = {
            (view_names(self.before, group.hidden), view_labels(self.before, group.controls, setting))
            for group, setting in self.before.chattering
        }
        found: dict[tuple[str, ...], tuple[tuple[str, ...], set[Row], bool]] = {}
        for group, setting in self.after.chattering:
            hidden = view_names(self.after, group.hidden)
            labels = view_labels(self.after, group.controls, setting)
            names = view_names(self.after, group.controls)
            entry = found.setdefault(hidden, (names, set(), (hidden, labels) in old))
            entry[1].add(labels)
        for hidden, (names, rows, was) in found.items():
            place = hidden[0].rpartition("/")[0]
            possible = frozenset(s.labels for s in self.alignment.settings(names))
            yield Hazard(
                "chatter", place, tr("a relay finds no rest"), names, frozenset(rows), possible, (), was
            )

    def _drain(self) -> Iterator[Hazard]:
        before, after = abs(self.before.amps_at_rest), abs(self.after.amps_at_rest)
        if is_drain(after, before):
            detail = tr("{now:.3g} A with everything at rest, {was:.3g} A before", now=after, was=before)
            yield Hazard("drain", "", detail, (), frozenset({()}), frozenset({()}))

    def _overlaps(self) -> Iterator[Hazard]:
        """Shorts between two detents of a newly fitted part whose contacts overlap."""
        for overlap in shorts_between_detents(self.after.loom, self.catalogue, self.swapped):
            rows = frozenset({(overlap.first,), (overlap.second,)})
            possible = frozenset((label,) for label in self.alignment.values(overlap.control))
            detail = tr(
                "on the way between {first} and {second}, where contacts overlap; protected by {what}",
                first=overlap.first,
                second=overlap.second,
                what=_protection(self.after.net, overlap.label, self.after.loom),
            )
            place = overlap.control.rpartition("/")[0]
            yield Hazard("short", place, detail, (overlap.control,), rows, possible, control=overlap.control)

    def _belongs(self, behaviour: Behaviour, number: int, place: str) -> bool:
        """Whether a control's part is on the way that feeds the load in some position of the control."""
        key = (behaviour.at, behaviour.what, number)
        if key not in self._belonging:
            path = _feeding_path(behaviour, number, self.after)
            self._belonging[key] = any(node.startswith(f"{place}:") for node in path)
        return self._belonging[key]

    def _dead_positions(self) -> Iterator[Hazard]:
        for name, detent in self.alignment.new_detents():
            number = self.after.variable_number[name]
            place = name.rpartition("/")[0]
            if detent.after == 0:
                continue
            moved = [b for b in self.after.loads.values() if number in b.controls]
            nearest = sorted(moved, key=lambda b: b.at != place)
            works = (b for b in nearest if _ever_on(b, number, detent.after, self.after))
            # A load in the same part is surely its own.
            if any(b.at == place or self._belongs(b, number, place) for b in works):
                continue
            own = [b for b in moved if self._belongs(b, number, place)]
            if all(self._is_wanted_off((b.at, b.what), name, detent.label) for b in own):
                continue
            stops = any(
                "stops off-park" in _ever(cam, number, detent.after, self.after)
                for cam in self.after.cams.values()
                if number in cam.controls
            )
            what = ", ".join(sorted({b.what for b in own}))
            if stops:
                detail = tr("nothing works there ({loads}); the blades stop where they are", loads=what)
            else:
                detail = tr("nothing works there ({loads})", loads=what)
            row = (detent.label,)
            possible = frozenset((label,) for label in self.alignment.values(name))
            duty = next((b.duty for b in own if b.duty != "none"), "none")
            yield Hazard(
                "dead-position", place, detail, (name,), frozenset({row}), possible, control=name, duty=duty
            )


def _feeding_path(behaviour: Behaviour, number: int, view: View) -> tuple[str, ...]:
    """The way that feeds a load in the first position in which it is on; empty if it never is."""
    for value in range(view.states.sizes[number]):
        for setting in _settings_with(behaviour, number, value, view):
            for start in behaviour.starts(setting):
                moment = behaviour.moment_when_on(setting, start)
                if moment is not None:
                    return view.feeding_path((behaviour.at, behaviour.what), moment)
    return ()


def _settings_with(behaviour: Behaviour, number: int, value: int, view: View) -> Iterator[dict[int, int]]:
    others = tuple(c for c in behaviour.controls if c != number)
    for setting in view.states.settings(others):
        yield dict(zip(others, setting, strict=True)) | {number: value}


def _ever(behaviour: Behaviour, number: int, value: int, view: View) -> Iterator[object]:
    for setting in _settings_with(behaviour, number, value, view):
        for start in behaviour.starts(setting):
            yield behaviour.appears(setting, start)


def _ever_on(behaviour: Behaviour, number: int, value: int, view: View) -> bool:
    return any(is_on(appearance) for appearance in _ever(behaviour, number, value, view))


def _feed_guard(net: Network, node: str) -> Guard | None:
    for supply in net.supplies:
        if supply.node == node:
            return supply.guard
    return None


def _protection(net: Network, label: str, loom: Loom) -> str:
    for joint in net.passes:
        if joint.label == label and joint.amps:
            at = address_words(loom, label.removeprefix("fuse:"))
            return tr("the fuse of {amps} at {at}", amps=fuse_words(joint.amps, joint.marked), at=at)
    if label.startswith("feed:"):
        return tr("whatever protects {feed}", feed=address_words(loom, label))
    return tr("nothing: unprotected")


def ties_sources(name: tuple[object, ...]) -> bool:
    """Whether an event ties sources only: a generator feeding the battery's conductor is what it is for."""
    return name[0] == "tie" and all(str(label).startswith("source:") for label in name[1:])


def label_words(label: str, loom: Loom) -> str:
    """What holds a node, in words: a fused side, a flasher's output, the live pole, a feed."""
    kind, _, rest = label.partition(":")
    if kind == "fuse":
        return tr("the fused side {at}", at=address_words(loom, rest))
    if kind == "flasher":
        return tr("the flasher's output at {place}", place=loom.place_title(rest.rpartition(":")[0]))
    if kind == "source":
        return tr("the live pole ({place})", place=loom.place_title(rest.rpartition(":")[0]))
    return address_words(loom, label)


def view_names(view: View, numbers: tuple[int, ...]) -> tuple[str, ...]:
    """Full names of variables."""
    return tuple(view.label_of(n) for n in numbers)


def view_labels(view: View, numbers: tuple[int, ...], setting: tuple[int, ...]) -> Row:
    """Labels of a setting."""
    return tuple(
        view.net.variables[view.label_of(n)].values[v] for n, v in zip(numbers, setting, strict=True)
    )


def loose_nodes(loom: Loom) -> frozenset[str]:
    """Nodes of ends that hang loose and are not covered."""
    return frozenset(
        f"end:{wire}:{number}"
        for wire, number in loom.ends_at.get("loose", ())
        if not loom.find(wire).ends[number].covered
    )


def bare_addresses(
    loom: Loom, places: frozenset[str], terminals: Mapping[str, tuple[str, ...]]
) -> frozenset[str]:
    """Terminals of some places that carry no end and are not covered."""
    return frozenset(
        f"{place}:{mark}"
        for place in places
        for mark in terminals.get(place, ())
        if f"{place}:{mark}" not in loom.ends_at and f"{place}:{mark}" not in loom.covered
    )
