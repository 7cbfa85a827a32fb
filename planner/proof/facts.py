"""What each conductor is, computed from a loom: always live, live with the ignition, earth, feeds a load.

Only joints matter here, so the loads are left out, but for an ammeter, which is as good as a joint: a
conductor is live or earthed if contacts, fuses and wires tie it to a pole. Hidden states are left free: a
conductor that is live only in a state that can never be reached counts as *sometimes* live, which is the
careful side.
"""

from collections.abc import Iterator, Mapping
from functools import cached_property
from itertools import product
from typing import Literal

from planner.circuit.compile import Compiled, compile_network
from planner.circuit.factor import Factored
from planner.circuit.network import EARTH, Network, Tie, Variable, node_of
from planner.circuit.states import is_present
from planner.circuit.store import Store
from planner.circuit.tree import Function, Projector
from planner.messages import tr
from planner.model.catalogue import Catalogue
from planner.model.elements import Contact, Control, Gauge
from planner.model.facts import ConductorFact, Facts, Nature
from planner.model.fuses import Marked
from planner.model.loom import Loom
from planner.proof.condition import shortest_condition
from planner.proof.words import say

# A condition over more settings than this is not put into words here; the nature is still exact.
MOST_SETTINGS_IN_WORDS = 512
RUN_MEANINGS = ("on", "run")
RUN_ROLES = ("15", "15a", "15e")
IGNITION, KEY_SWITCH = "ignition", "ignition-switch"
LASTING = ("step", "cam")


def conductor_facts(loom: Loom, catalogue: Catalogue, compiled: Compiled | None = None) -> Facts:
    """Facts about every terminal, feed, joint and earth address of a loom.

    Parameters
    ----------
    loom, catalogue
        A loom with sound references; normally the loom as found, before any swap.
    compiled
        Parts and wires compiled before for looms of the same catalogue.

    Returns
    -------
    Facts
        By address. Addresses joined by wire alone share one conductor; through contacts they do not.
    """
    addresses = _addresses(loom, catalogue)
    view = Joints(loom, catalogue, frozenset(addresses), compiled)
    conductors = _conductors(loom, addresses)
    fuses: dict[str, Printed] = {joint.label: (joint.amps, joint.marked) for joint in view.net.passes}
    fuses |= {name: (feed.fuse_amps, "continuous") for name, feed in loom.feeds.items()}
    found: dict[str, ConductorFact] = {}
    for address in addresses:
        if address not in found:
            fact = _fact(view, address, conductors[address], fuses)
            found |= dict.fromkeys(conductors[address], fact)
    return Facts(found, _fused_loads(view))


class Joints:
    """A loom's joints without its loads, every address watched."""

    def __init__(
        self, loom: Loom, catalogue: Catalogue, addresses: frozenset[str], compiled: Compiled | None
    ) -> None:
        self.loom, self.catalogue = loom, catalogue
        self.net = compile_network(loom, catalogue, addresses, compiled)
        self.net.ties += list(_through_ammeters(loom, catalogue))
        # Behind a switch of its own a load hangs on no address.
        self.tasks = {key: (info.a, info.b) for key, info in self.net.loads.items() if info.is_task}
        self.net.watched.update(*self.tasks.values())
        self.net.conductances.clear()
        self.store = Store(self.net.volts)
        self.factored = Factored(self.net, self.store)
        self.projector = Projector()
        self.labels: dict[str, list[str]] = {}
        for key in self.factored.tree.keys:
            name = self.store.key_names[key]
            if name[0] == "by":
                self.labels.setdefault(str(name[1]), []).append(str(name[2]))
        self.words: dict[int, str] = {}  # by function
        self._names = {number: name for name, number in self.factored.variables.items()}

    def function(self, *key: object) -> Function:
        """In which positions a result is there."""
        return self.projector.project(self.factored.tree, self.store.key(*key), is_present)

    def name(self, number: int) -> str:
        """Full name of a variable."""
        return self._names[number]

    @cached_property
    def keys(self) -> frozenset[str]:
        """The variables that switch the ignition on."""
        return frozenset(_keys(self.loom, self.catalogue))

    @cached_property
    def titles(self) -> Mapping[str, str]:
        """What to call each variable."""
        return place_titles(self.loom, self.net)


def _through_ammeters(loom: Loom, catalogue: Catalogue) -> Iterator[Tie]:
    """Yield a joint for each ammeter."""
    for place, fitted in loom.places.items():
        for element in catalogue.parts[fitted.part].inside:
            if isinstance(element, Gauge) and element.is_in_series:
                one, other = (node_of(f"{place}:{node}") for node in element.between)
                yield Tie(one, other, (), ("ammeter", place))


def _addresses(loom: Loom, catalogue: Catalogue) -> list[str]:
    out = dict.fromkeys(loom.feeds)
    for place, fitted in loom.places.items():
        out |= dict.fromkeys(f"{place}:{mark}" for mark in catalogue.parts[fitted.part].terminals)
    out |= dict.fromkeys(f"{EARTH}:{zone}" for zone in loom.zones)
    for wire in loom.wires:
        for number, end in enumerate(wire.ends):
            out[end.at if end.at not in ("loose", "unknown") else f"end:{wire.wire}:{number}"] = None
    return list(out)


def _conductors(loom: Loom, addresses: list[str]) -> Mapping[str, tuple[str, ...]]:
    """The addresses joined to each address by wire alone, itself included, in order."""
    parent = {address: address for address in addresses}

    def find(address: str) -> str:
        while parent[address] != address:
            address = parent[address]
        return address

    for wire in loom.wires:
        names = [
            end.at if end.at not in ("loose", "unknown") else f"end:{wire.wire}:{number}"
            for number, end in enumerate(wire.ends)
        ]
        for name in names[1:]:
            parent[find(name)] = find(names[0])
    groups: dict[str, list[str]] = {}
    for address in addresses:
        groups.setdefault(find(address), []).append(address)
    return {address: tuple(group) for group in groups.values() for address in group}


Printed = tuple[float | None, Marked]  # the amps of a fuse, and what they mean
NOT_PRINTED: Printed = (None, "continuous")


def _fact(
    view: Joints, address: str, conductor: tuple[str, ...], fuses: Mapping[str, Printed]
) -> ConductorFact:
    node = node_of(address)
    live = view.function("live", node)
    earthed = view.function("zero", node)
    nodes = {node_of(other) for other in conductor}
    loads = tuple(key for key, ends in view.tasks.items() if not nodes.isdisjoint(ends))
    fuse = _only_fuse(view, node)
    amps, marked = fuses.get(fuse, NOT_PRINTED) if fuse else NOT_PRINTED
    if fuse and fuse.startswith("feed:") and amps is None:
        fuse = None  # a feed at the edge without a fuse drawn
    nature = _nature(view, live, earthed, bool(loads))
    decisive = live if live.support else earthed
    return ConductorFact(
        nature=nature,
        live=_how_often(live),
        earthed=_how_often(earthed),
        when=_in_words(view, decisive),
        depends_on=tuple(sorted(view.name(v) for v in decisive.support)),
        loads=loads,
        fuse=fuse.removeprefix("fuse:") if fuse else None,
        fuse_amps=amps,
        fuse_marked=marked,
        addresses=conductor,
    )


def _how_often(function: Function) -> Literal["always", "sometimes", "never"]:
    values = set(function.values())
    if values == {True}:
        return "always"
    return "sometimes" if True in values else "never"


def _nature(view: Joints, live: Function, earthed: Function, has_loads: bool) -> Nature:
    often = _how_often(live)
    if often == "always":
        return "always-live"
    if _how_often(earthed) == "always":
        return "earth"
    if often == "sometimes":
        return "ignition-live" if _follows_ignition(view, live) else "switched-live"
    if _how_often(earthed) == "sometimes":
        return "switched-earth"
    return "load" if has_loads else "dead"


def _follows_ignition(view: Joints, live: Function) -> bool:
    """Live whenever the ignition is on, whatever else is set."""
    if len(live.support) != 1:
        return False
    (number,) = live.support
    name = view.name(number)
    if name not in view.keys:
        return False
    variable = view.net.variables[name]
    runs = [meaning in RUN_MEANINGS for meaning in variable.meanings]
    if not any(runs):  # called in the maker's own words: that at which it stays and is furthest from rest
        stays = [index for index, value in enumerate(variable.values) if value not in variable.sprung]
        runs[stays[-1]] = True
    return any(is_running and live.at({number: index}) is True for index, is_running in enumerate(runs))


def _keys(loom: Loom, catalogue: Catalogue) -> Iterator[str]:
    """Yield what switches the ignition on: the condition of that name, and a control of a key switch.

    Known by its family and by what it gives, for it may be called anything: a control that turns the
    lamps on in the same switch is none.
    """
    yield from (name for name in loom.conditions if name == IGNITION)
    for place, fitted in loom.places.items():
        part = catalogue.parts[fitted.part]
        controls = {e.name for e in part.inside if isinstance(e, Control)}
        gives = {
            name
            for e in part.inside
            if isinstance(e, Contact)
            for name in e.when
            if any((t := part.terminals.get(mark)) is not None and t.role in RUN_ROLES for mark in e.join)
        }
        for name in controls:
            if name == IGNITION or (part.family == KEY_SWITCH and name in gives):
                yield f"{place}/{fitted.called.get(name, name)}"


def _only_fuse(view: Joints, node: str) -> str | None:
    """The fuse or feed that a node is fed through, if it is always the same."""
    labels = view.labels.get(node, ())
    return labels[0] if len(labels) == 1 and labels[0].startswith(("fuse:", "feed:")) else None


def _fused_loads(view: Joints) -> Mapping[str, tuple[tuple[str, str], ...]]:
    """For each fuse or feed the loads that it alone feeds, whatever is switched between."""
    found: dict[str, list[tuple[str, str]]] = {}
    for key, nodes in view.tasks.items():
        for fuse in dict.fromkeys(_only_fuse(view, node) for node in nodes):
            if fuse:
                found.setdefault(fuse.removeprefix("fuse:"), []).append(key)
    return {fuse: tuple(keys) for fuse, keys in found.items()}


def _in_words(view: Joints, function: Function) -> str:
    """When a function holds; many conductors share one."""
    if id(function) not in view.words:
        view.words[id(function)] = _say(view, function)
    return view.words[id(function)]


def _say(view: Joints, function: Function) -> str:
    if not function.support:
        return ""
    numbers = sorted(function.support)
    variables: list[Variable] = [view.net.variables[view.name(n)] for n in numbers]
    size = 1
    for variable in variables:
        size *= len(variable.values)
    if size > MOST_SETTINGS_IN_WORDS:
        return f"depending on {', '.join(v.name for v in variables)}"
    positions = [
        tuple(v.values[i] for v, i in zip(variables, setting, strict=True))
        for setting in product(*(range(len(v.values)) for v in variables))
        if function.at(dict(zip(numbers, setting, strict=True))) is True
    ]
    names: dict[str, tuple[str, ...]] = {v.name: v.values for v in variables}
    return say(shortest_condition(names, positions), view.titles)


def short_titles(loom: Loom) -> dict[str, str]:
    """What people call each place without where it is, as long as that tells it from the others."""
    shorts = {place: loom.place_title(place).partition(",")[0] for place in loom.places}
    used = list(shorts.values())
    return {
        place: short if used.count(short) == 1 else loom.place_title(place).replace(", ", " in the ")
        for place, short in shorts.items()
    }


def place_titles(loom: Loom, net: Network) -> dict[str, str]:
    """What to call each variable: the title of its place, as short as it stays unique, or its own name.

    "the ignition switch" for the only control of "ignition switch, dash"; of what remembers the start is
    meant ("the dip relay starting at main").
    """
    shorts = short_titles(loom)
    titles = {}
    for name, variable in net.variables.items():
        place, _, local = name.rpartition("/")
        if not place:
            titles[name] = local
            continue
        title = shorts.get(place, place)
        others = [n for n, v in net.variables.items() if n.startswith(place + "/") and v.kind == "control"]
        if variable.kind == "control":
            own = [o for o, called in loom.places[place].called.items() if called == local]
            both = f"{local} ({own[0]} on the new part)" if own and own[0] not in local else local
            titles[name] = f"the {title}" if len(others) == 1 else f"{both} of the {title}"
        else:  # what remembers is named by how it starts
            kin = [n for n, v in net.variables.items() if n.startswith(place + "/") and v.kind in LASTING]
            alone = kin == [name]
            titles[name] = (
                tr("the {title} starting", title=title)
                if alone
                else tr("{local} of the {title} starting", local=local, title=title)
            )
    return titles
