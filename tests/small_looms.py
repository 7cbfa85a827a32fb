"""Tiny invented looms in few words, and what a circuit shows of them in one position.

A part is written as ``{terminals: {mark: role}, inside: [...]}``; a role of ``""`` is unknown, ``mounting``
makes the terminal earthed by the part's mounting. A wire is ``"end > end > end"``.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

import yaml

from planner.circuit.network import EARTH
from planner.circuit.store import Store
from planner.circuit.tree import Projector, evaluate
from planner.model.catalogue import Catalogue
from planner.model.job import Job
from planner.model.loom import Loom, split_address
from planner.model.part import Part, Role
from planner.proof.behaviour import Behaviour, View
from planner.proof.prove import Proof, Prover

# role: rank, wants. Ranks as in design.md: 0 the live pole, 100 earth.
RANKS: Mapping[str, tuple[int, str]] = {
    "30": (2, "live"),
    "15": (10, "ignition"),
    "49": (14, "ignition"),
    "49a": (18, "partner"),
    "56": (16, "nothing"),
    "56a": (24, "nothing"),
    "56b": (24, "nothing"),
    "58": (18, "nothing"),
    "54": (24, "nothing"),
    "L": (24, "nothing"),
    "R": (24, "nothing"),
    "53": (24, "nothing"),
    "53a": (16, "ignition"),
    "53b": (26, "nothing"),
    "31b": (20, "nothing"),
    "87": (24, "nothing"),
    "87a": (24, "nothing"),
    "86": (30, "nothing"),
    "85": (70, "nothing"),
    "return": (60, "nothing"),
    "31": (100, "earth"),
}
ROLES = {
    name: Role(rank=rank, meaning=name, wants=wants, source="ours", basis="invented")  # type: ignore[arg-type]
    for name, (rank, wants) in RANKS.items()
}


def read(text: str) -> Any:
    """YAML as text values, as the reading layer takes it."""
    return yaml.load(text, Loader=yaml.BaseLoader)


def make_part(name: str, short: Mapping[str, Any]) -> Part:
    """A part from its short form; every name it refers to must be there."""
    terminals: dict[str, Any] = {}
    for mark, said in short["terminals"].items():
        given = dict(said) if isinstance(said, Mapping) else {"role": said}
        if given.get("role") == "mounting":
            given = {"role": "31", "by": "mounting"}
        terminals[mark] = {key: value for key, value in given.items() if value != ""}
    rest = {key: value for key, value in short.items() if key != "terminals"}
    part = Part.model_validate(
        {"part": name, "title": name, "family": "small", "source": "invented", "terminals": terminals, **rest}
    )
    for _, _, kind, known in part.references():
        loads = {getattr(element, "does", None) for element in part.inside}
        names = {"node": {*part.terminals, *part.nodes}, "load": loads}.get(kind)
        assert names is None or known in names, f"{name}: no {kind} {known!r}"
    return part


def make_parts(text: str) -> dict[str, Part]:
    """Parts by name from YAML."""
    return {name: make_part(name, short) for name, short in read(text).items()}


@dataclass
class Bench:
    """A tiny loom with its parts; ``view`` is its circuit."""

    parts: Mapping[str, Part]
    places: Mapping[str, str]  # place: part, with "!insulated" or "!doubtful" behind it if so mounted
    wires: Sequence[str]
    feeds: Mapping[str, Any] = field(default_factory=dict)  # name: {role, when, fuse_amps}
    conditions: Mapping[str, Any] = field(default_factory=dict)
    volts: float = 12.0
    earthed: str = "negative"
    more: Mapping[str, Any] = field(default_factory=dict)  # anything else of the loom

    @cached_property
    def catalogue(self) -> Catalogue:
        """The parts and the roles above."""
        return Catalogue(ROLES, {}, self.parts, {}, {}, {})

    @cached_property
    def loom(self) -> Loom:
        """The loom; a wire to a terminal that is not there fails."""
        wires = []
        for number, text in enumerate(self.wires, 1):
            name, colon, ends = text.rpartition(" = ")
            wires.append(
                {
                    "wire": name if colon else f"W{number}",
                    "colour": "BK",
                    "mm2": 1,
                    "metres": 1,
                    "ends": [end.strip() for end in ends.split(">")],
                }
            )
        places = {}
        for place, said in self.places.items():
            part, _, mounting = said.partition("!")
            places[place] = {"part": part, "zone": "z", "mounting": mounting or "metal"}
        loom = Loom.model_validate(
            {
                "loom": "small",
                "supply": {"volts": self.volts, "earthed": self.earthed},
                "conditions": dict(self.conditions),
                "feeds": {f"feed:{name}": said for name, said in self.feeds.items()},
                "zones": {"z": {}},
                "places": places,
                "wires": wires,
                **self.more,
            }
        )
        self._check(loom)
        return loom

    def _check(self, loom: Loom) -> None:
        for address in loom.ends_at:
            place, mark = split_address(address)
            if place in ("loose", "unknown", "joint", EARTH):
                continue
            if place == "feed":
                assert address in loom.feeds, f"no feed {address}"
            else:
                assert mark in self.parts[loom.places[place].part].terminals, f"no terminal {address}"

    def changed(self, **changes: Any) -> "Bench":
        """The same bench with some fields other."""
        fields = ("parts", "places", "wires", "feeds", "conditions", "volts", "earthed", "more")
        return Bench(**{name: changes.get(name, getattr(self, name)) for name in fields})

    @cached_property
    def view(self) -> View:
        """The circuit with every terminal watched."""
        sign = 1.0 if self.earthed == "negative" else -1.0
        return View(
            self.loom, self.catalogue, Store(sign * self.volts), Projector(), frozenset(self.addresses())
        )

    def addresses(self) -> list[str]:
        """Every terminal."""
        return [
            f"{place}:{mark}"
            for place, fitted in self.loom.places.items()
            for mark in self.parts[fitted.part].terminals
        ]

    # -- what the circuit shows ------------------------------------------------------------------------

    def behaviour(self, load: str) -> Behaviour:
        """The behaviour of ``place/what it does``, or of a cam ``place/park the NAME``."""
        place, _, what = load.partition("/")
        return self.view.cams[place, what] if what.startswith("park the ") else self.view.loads[place, what]

    def setting(self, position: Mapping[str, str]) -> dict[int, int]:
        """A position by numbers; controls not named are at rest."""
        view = self.view
        for name in position:
            assert name in view.net.variables, f"no variable {name}; there are {list(view.net.variables)}"
        return {
            view.variable_number[name]: view.net.variables[name].values.index(
                position.get(name, view.net.variables[name].values[0])
            )
            for name in view.net.controls
        }

    def all_appearances(self, load: str, position: Mapping[str, str]) -> set[str]:
        """How a load appears in a position, from every start; states named there choose the start."""
        view, behaviour = self.view, self.behaviour(load)
        memory = {n: v for n, v in position.items() if n in view.net.hidden}
        setting = self.setting({n: v for n, v in position.items() if n not in memory})
        seen = set()
        for start in behaviour.starts(setting):
            named = {
                view.label_of(v): view.net.variables[view.label_of(v)].values[s]
                for v, s in zip(behaviour.group.hidden, start, strict=True)
            }
            if all(named.get(name, value) == value for name, value in memory.items()):
                seen.add(str(behaviour.appears(setting, start)))
        assert seen, f"no start state of {load} in {dict(position)}"
        return seen

    def shows(self, load: str, **position: str) -> str:
        """How a load appears in a position, the same from every start; ``__`` in a name stands for ``/``."""
        return self.shows_in(load, {name.replace("__", "/"): value for name, value in position.items()})

    def shows_in(self, load: str, position: Mapping[str, str]) -> str:
        """As ``shows``, with the position as a mapping."""
        seen = self.all_appearances(load, position)
        assert len(seen) == 1, f"{load} in {dict(position)} depends on the start: {sorted(seen)}"
        return seen.pop()

    def number(self, position: Mapping[str, str], *key: object) -> float:
        """A result of one full position, hidden states as given or at rest; a key is ("volt", node) or so."""
        view = self.view
        assignment = {}
        for name, number in view.variable_number.items():
            values = view.net.variables[name].values
            assignment[number] = values.index(position.get(name, values[0]))
        return evaluate(view.factored.tree, view.store.key(*key), assignment)

    def amps(self, load: str, position: Mapping[str, str]) -> float:
        """Current of a load in one full position."""
        place, _, does = load.partition("/")
        assert (place, does) in self.view.net.loads, f"no load {load}"
        return self.number(position, "load", place, does)

    def watts(self, load: str, position: Mapping[str, str]) -> float:
        """Power of a load in one full position."""
        place, _, does = load.partition("/")
        return self.amps(load, position) ** 2 * self.view.net.loads[place, does].ohms

    def volts_at(self, node: str, position: Mapping[str, str]) -> float:
        """Potential of a terminal in one full position."""
        live = self.number(position, "live", node)
        return self.view.net.volts if live else self.number(position, "volt", node)

    def events(self, position: Mapping[str, str], kind: str) -> set[tuple[str, ...]]:
        """The shorts or ties of one full position, by their labels."""
        view = self.view
        return {
            tuple(str(part) for part in name[1:])
            for name in list(view.store.key_names)
            if name[0] == kind and self.number(position, *name)
        }


def prove(before: Bench, after: Bench, **job: Any) -> Proof:
    """The proof of one bench against another; ``job`` may hold swaps, wants and accepts."""
    asked = Job.model_validate({"job": "small", "loom": "small", **job})
    catalogue = Catalogue(ROLES, {}, {**before.parts, **after.parts}, {}, {}, {})
    return Prover(before.loom, catalogue, asked).prove(after.loom)
