"""Which reading to take next: the one that lessens what is not known most, for the effort it takes."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from planner.circuit.fitted import LoadKey
from planner.currents.curves import Array
from planner.model.delta import EndRef
from planner.model.loom import split_address
from planner.model.observations import ObservationKind, Settings
from planner.testing.hunt.agreeing import foretold_ohms, look_chances, where_it_sits
from planner.testing.hunt.effort import Effort
from planner.testing.hunt.hunt import Hunt
from planner.testing.hunt.outlook import Worlds
from planner.testing.hunt.settling import Setting
from planner.testing.hunt.tolerance import bins, volts_scale
from planner.testing.hunt.vehicle import NOTHING
from planner.testing.hunt.weighing import Groups, best, information, informations

MOST_WORLDS = 160  # that take part in choosing, the likeliest; what is left has next to no weight
EFFORT_COUNTS = 0.25  # to this power: a reading that tells twice as much is worth some more minutes
LEAST_BITS = 0.08  # a reading that is expected to tell less is not worth taking
ENOUGH_BITS = 0.6  # if the positions at hand offer this much, no other is looked at
MORE_POSITIONS = 3  # looked at beyond those at hand
MOST_UNKNOWN = 6  # positions that nobody has looked at yet are looked at for one question, for time's sake
LEAST_FRESH = 0.02  # of all weight must show otherwise in a position that is looked at besides
MOST_LOOKED_AT = 80  # worlds whose ends are thought of to be looked at
MOST_DEAD = 24  # pairs of points between which ohms are considered
ALIKE = 1.0  # standard deviations: what is foretold closer together tells nothing


@dataclass(frozen=True, slots=True)
class Question:
    """A reading that can be taken: what, where, in which setting, what it tells and takes."""

    kind: ObservationKind
    at: str
    to: str
    setting: Settings
    bits: float
    minutes: float


class Asking:
    """Finds the next question of a hunt."""

    def __init__(self, hunt: Hunt, skipped: frozenset[tuple[str, str, str]] = frozenset()) -> None:
        self.hunt, self.known = hunt, hunt.known
        self.outlook, self.vehicle = hunt.known.outlook, hunt.vehicle
        self.worlds: Worlds = hunt.worlds[:MOST_WORLDS]
        self.weights: Array = hunt.weights[:MOST_WORLDS]
        groups: dict[tuple[int, ...], int] = {}
        self.groups: Groups = np.array(
            [groups.setdefault(self.vehicle.worlds[w].mistakes, len(groups)) for w in self.worlds.tolist()]
        )
        self.asked = {(o.kind, o.at, o.to, o.settings) for o in hunt.observations}
        self.skipped = skipped  # kind, from and to of what the person cannot or will not read
        last = hunt.observations[-1] if hunt.observations else None
        self.effort = Effort(self.vehicle, last)

    def next(self) -> Question | None:
        """The question to ask; None if no reading that is thought of tells anything more."""
        if len(set(self.groups.tolist())) < 2:
            return None
        settings = list(dict.fromkeys(o.settings for o in self.hunt.observations if o.kind != "ohms"))
        settings = settings or [()]
        found = [q for setting in settings for q in self._in(setting)]
        most = max((q.bits for q in found), default=0.0)
        if most < ENOUGH_BITS:
            for setting in self._others(settings, MOST_UNKNOWN if most >= LEAST_BITS else None):
                found += self._in(setting)
        found += self._sitting()
        if max((q.bits for q in found), default=0.0) < ENOUGH_BITS:
            found += self._dead()
        worth = [q for q in found if q.bits >= LEAST_BITS and (q.kind, q.at, q.to) not in self.skipped]
        return worth[best([q.bits / q.minutes**EFFORT_COUNTS for q in worth])] if worth else None

    def _others(self, at_hand: Sequence[Setting], most_unknown: int | None) -> list[Setting]:
        """The few other settings in which most of what is suspected shows otherwise than in those at hand.

        So many are looked at that nobody has looked at before; None: all of them.
        """
        before = [self._shows(setting) for setting in at_hand]
        new: list[tuple[float, Setting]] = []
        unknown = 0
        for setting in self.known.standing.settings:
            is_known = self.outlook.is_solved(setting)
            unknown += not is_known
            is_looked_at = is_known or most_unknown is None or unknown <= most_unknown
            if setting not in at_hand and is_looked_at:
                shows = self._shows(setting)
                fresh = np.logical_and.reduce([shows != other for other in before])
                new.append((-float(self.weights[fresh].sum()), setting))
        return [setting for weight, setting in sorted(new)[:MORE_POSITIONS] if weight < -LEAST_FRESH]

    def _shows(self, setting: Setting) -> NDArray[np.bool_]:
        """Whether each world takes away what carries current in a setting, or joins what has other volts."""
        position = self.outlook.position(setting)
        carrying, volts, nodes = position.carrying, position.volts[NOTHING], self.vehicle.nodes
        edits = [self.vehicle.worlds[world].edit for world in self.worlds.tolist()]
        return np.array(
            [
                not edit.gone.isdisjoint(carrying)
                or any(
                    abs(volts[nodes[g.branch.a]] - volts[nodes[g.branch.b]]) > 0.5
                    for g in edit.added
                    if g.branch.name[0] != "wire" or not edit.gone
                )
                for edit in edits
            ]
        )

    def _in(self, setting: Setting) -> Iterator[Question]:
        yield from self._volts(setting)
        for load in self.known.standing.working:
            yield from self._look(setting, load)

    def _volts(self, setting: Setting) -> Iterator[Question]:
        """Yield readings of volts at terminals that differ from one world to another."""
        position = self.outlook.position(setting)
        position.ask(self.worlds)
        names = list(self.vehicle.nodes)
        foretold = volts_scale(position.volts[self.worlds])
        differs = (np.ptp(foretold, axis=0) > ALIKE) & ~position.swinging
        nodes = [n for n in np.flatnonzero(differs).tolist() if self._can_be_reached(names[n])]
        nodes = [n for n in nodes if ("volts", names[n], "", setting) not in self.asked]
        if not nodes:
            return
        told = informations(self.weights, bins(foretold[:, nodes]), self.groups)
        for n, bits in zip(nodes, told.tolist(), strict=True):
            minutes = self.effort.of("volts", names[n], "", setting)
            yield Question("volts", names[n], "", setting, bits, minutes)

    def _can_be_reached(self, node: str) -> bool:
        """Whether a meter can be put there: terminals, joiners and feeds, not what is inside a part."""
        head, tail = split_address(node)
        if head in self.vehicle.wired.loom.places:
            part = self.vehicle.catalogue.parts[self.vehicle.wired.loom.places[head].part]
            return tail in part.terminals
        return head in ("joint", "feed")

    def _look(self, setting: Setting, load: LoadKey) -> Iterator[Question]:
        at = "/".join(load)
        if ("looks", at, "", setting) in self.asked or self.vehicle.net.loads[load].kind == "gauge":
            return
        chances = look_chances(self.outlook, setting, load, self.worlds)
        if float(np.ptp(chances, axis=0).max()) < 0.1:
            return
        bits = information(self.weights, chances, self.groups)
        yield Question("looks", at, "", setting, bits, self.effort.of("looks", at, "", setting))

    def _sitting(self) -> Iterator[Question]:
        """Yield looks at where an end is, of those that the likeliest suspects have elsewhere."""
        ends: dict[EndRef, None] = {}
        for world in self.worlds[:MOST_LOOKED_AT].tolist():
            for change in self.vehicle.worlds[world].changes:
                ends |= dict.fromkeys((moved.wire, moved.end) for moved in change.ends)
        for wire, number in ends:
            at = f"{wire}.{number}"
            if ("sits", at, "", ()) in self.asked:
                continue
            where = where_it_sits(self.vehicle, at, self.worlds)
            known = list(dict.fromkeys(where.tolist()))
            if len(known) > 1:
                outcomes = np.array([[address == each for each in known] for address in where], dtype=float)
                bits = information(self.weights, outcomes, self.groups)
                address = self.vehicle.wired.loom.find(wire).ends[number].at
                yield Question("sits", at, "", (), bits, self.effort.of("sits", address, "", ()))

    def _dead(self) -> Iterator[Question]:
        """Yield readings of ohms with the battery off, where the likeliest suspects would be mended."""
        for at, to in list(dict.fromkeys(self._pairs()))[:MOST_DEAD]:
            if ("ohms", at, to, ()) in self.asked:
                continue
            foretold, _ = foretold_ohms(self.outlook, at, to, self.worlds)
            if np.ptp(foretold) > ALIKE:
                bits = information(self.weights, bins(foretold), self.groups)
                yield Question("ohms", at, to, (), bits, self.effort.of("ohms", at, to, ()))

    def _pairs(self) -> Iterator[tuple[str, str]]:
        for suspect in self.hunt.suspects[:MOST_DEAD]:
            for number in suspect.mistakes:
                mend = [at for at in self.vehicle.mistakes[number].mend if self._can_be_reached(at)]
                for at in mend[:2]:
                    yield at, ""
                yield from pairwise(mend)
