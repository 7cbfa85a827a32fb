"""The edge of a partial loom: what a conductor that is cut off leads to, as feed, earth or loose joiner."""

import re
from collections.abc import Collection, Iterable
from dataclasses import dataclass, field

from planner.circuit.network import Variable
from planner.inquiry.survey.kept import without
from planner.model.catalogue import Catalogue
from planner.model.elements import Position, When
from planner.model.facts import ConductorFact
from planner.model.fitted_fuse import rated_for_good
from planner.model.loom import Feed, Loom, split_address
from planner.model.reach import gives_current
from planner.proof.edge_feeds import LiveWhen, live_when
from planner.proof.facts import conductor_facts

# The role of a feed where the terminal that it stands for has none: by nature, without and with a fuse.
USUAL_ROLES = {"always-live": ("30", "live-fused"), "ignition-live": ("15", "ignition-fused")}
_NOT_IN_NAMES = re.compile(r"[^A-Za-z0-9.+-]+")
_POLES = {"+": "plus", "-": "minus"}


@dataclass
class Edges:
    """Where each terminal that is cut off is led to, and the feeds and conditions that stand for the rest."""

    addresses: dict[str, str] = field(default_factory=dict)  # of a terminal cut off: its new address
    feeds: dict[str, Feed] = field(default_factory=dict)
    conditions: dict[str, tuple[Position, ...]] = field(default_factory=dict)
    names: dict[str, str] = field(default_factory=dict)  # of a variable cut off: the condition for it
    fed_from: dict[str, str] = field(default_factory=dict)  # feed: the terminal it stands for
    taken: set[str] = field(default_factory=set)  # names of the variables that are kept


def find_edges(
    loom: Loom, catalogue: Catalogue, kept: Collection[str], wished: Collection[str], cut: Iterable[str]
) -> Edges:
    """What stands for each terminal that is cut off, computed with everything that is kept taken out.

    ``wished`` are the variables that a job's wishes name; those that are cut off become conditions too.
    """
    rest = without(loom, kept)
    facts = conductor_facts(rest, catalogue)
    cut = list(cut)
    live = live_when(rest, catalogue, cut)
    edges = Edges(conditions=dict(loom.conditions))
    for place in kept:
        edges.taken |= set(catalogue.parts[loom.places[place].part].variables)
    for name in wished:
        _name(name, _control(name, loom, catalogue), loom, edges)
    feeding: dict[frozenset[str], str] = {}
    for address in sorted(cut, key=lambda a: not _gives(loom, catalogue, a)):  # what feeds comes first
        fact = facts.at(address)
        place, mark = split_address(address)
        said = _POLES.get(mark, mark)
        name = _NOT_IN_NAMES.sub("-", f"{place.rpartition('.')[2]}-{said}")
        if fact.live != "never" and frozenset(fact.addresses) not in feeding:
            feed = f"feed:{name}" if f"feed:{name}" not in edges.feeds else f"feed:{place}-{mark}"
            feeding[frozenset(fact.addresses)] = edges.addresses[address] = feed
            edges.feeds[feed] = _feed(loom, catalogue, address, fact, live[address], edges)
            edges.fed_from[feed] = address
        elif fact.live == "never" and fact.earthed == "always":
            edges.addresses[address] = f"earth:{loom.places[place].zone}"
        else:
            edges.addresses[address] = f"joint:beyond-{name}"
    return edges


def _gives(loom: Loom, catalogue: Catalogue, address: str) -> bool:
    place, mark = split_address(address)
    return gives_current(catalogue.parts[loom.places[place].part], catalogue, mark)


def _feed(
    loom: Loom, catalogue: Catalogue, address: str, fact: ConductorFact, live: LiveWhen, edges: Edges
) -> Feed:
    place, mark = split_address(address)
    fused = fact.fuse is not None
    role = catalogue.parts[loom.places[place].part].terminals[mark].role
    usual = USUAL_ROLES.get(fact.nature, ("30", "live-fused"))[fused]
    return Feed(
        role=role or (usual if usual in catalogue.roles else "30"),
        when=_when(address, live, loom, edges),
        fuse_amps=rated_for_good(fact.fuse_amps, fact.fuse_marked) if fused and fact.fuse_amps else None,
        known="assumed",
    )


def _when(address: str, live: LiveWhen, loom: Loom, edges: Edges) -> When:
    """What the feed waits for; what no list of labels can say becomes a condition of its own."""
    if not live.is_exact:
        place, mark = split_address(address)
        name = f"{mark} of the {loom.place_title(place)}".replace(":", " ").replace("/", " ")
        edges.conditions[name] = tuple(Position.model_validate(word) for word in ("dead", "live"))
        return {name: ("live",)}
    return {
        _name(variable.name, _positions(variable), loom, edges): labels
        for variable, labels in zip(live.variables, live.labels, strict=True)
    }


def _positions(variable: Variable) -> tuple[Position, ...]:
    pairs = zip(variable.values, variable.meanings, strict=True)
    return tuple(Position(label=label, meaning=meaning) for label, meaning in pairs)


def _control(name: str, loom: Loom, catalogue: Catalogue) -> tuple[Position, ...]:
    place, _, local = name.rpartition("/")
    part = catalogue.parts[loom.places[place].part]
    if local in part.controls:
        return part.controls[local].positions
    return tuple(Position(label=label, meaning=label) for label in part.variables[local])


def _name(name: str, positions: tuple[Position, ...], loom: Loom, edges: Edges) -> str:
    """The condition that stands for a variable of a place cut off: its own name, unless that is taken."""
    place, _, local = name.rpartition("/")
    if not place:
        return name
    if name not in edges.names:
        taken = {*edges.conditions, *edges.taken}
        edges.names[name] = local if local not in taken else f"{local}, {loom.place_title(place)}"
        edges.conditions[edges.names[name]] = positions
    return edges.names[name]
