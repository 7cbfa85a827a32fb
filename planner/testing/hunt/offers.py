"""The readings that could be taken next in a hunt, each with the bits that it is expected to tell."""

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from planner.currents.curves import Array
from planner.model.delta import EndRef
from planner.model.observations import ObservationKind
from planner.testing.hunt.agreeing import looks_of, spread_of, where_it_sits
from planner.testing.hunt.effort import Effort
from planner.testing.hunt.hunt import Hunt
from planner.testing.hunt.question import Question
from planner.testing.hunt.settling import Setting
from planner.testing.hunt.tolerance import agreement, ohms_scale, volts_scale
from planner.testing.hunt.vehicle import NOTHING
from planner.testing.hunt.weighing import Groups, information, informations, lessening

MOST_WORLDS = 160  # that take part in choosing, the likeliest; what is left has next to no weight
MOST_TRUTHS = 40  # worlds of which it is thought through what a reading would bring if it were so
MOST_LOOKED_AT = 80  # worlds whose ends are thought of to be looked at
MOST_DEAD = 24  # pairs of points between which ohms are considered
LEAST_BITS = 0.08  # a reading that is expected to tell less is not worth taking
ALIKE = 1.0  # standard deviations: what is foretold closer together tells nothing
SAME = 0.25  # standard deviations: points closer together in every world are one point
LOOKS_ALIKE = 0.1  # of the chance of a look: what differs less tells nothing


class Offers:
    """Readings for one hunt as it stands."""

    def __init__(self, hunt: Hunt) -> None:
        self.hunt, self.known = hunt, hunt.known
        self.outlook, self.vehicle = hunt.known.outlook, hunt.vehicle
        self.worlds = hunt.worlds[:MOST_WORLDS]
        self.weights: Array = hunt.weights[:MOST_WORLDS]
        groups: dict[tuple[int, ...], int] = {}
        self.groups: Groups = np.array(
            [groups.setdefault(self.vehicle.worlds[w].mistakes, len(groups)) for w in self.worlds.tolist()]
        )
        self._is_out = hunt.is_before_power
        self._asked = {
            (o.kind, o.at, o.to, o.settings)
            for o in hunt.observations
            if o.kind != "ohms" or o.has_fuses_out == self._is_out
        }
        self._effort = Effort(self.vehicle, hunt.observations[-1] if hunt.observations else None)

    def in_setting(self, setting: Setting) -> Iterator[Question]:
        """Yield readings of volts and looks at loads in a setting."""
        yield from self._volts(setting)
        yield from self._looks(setting)

    def _volts(self, setting: Setting) -> Iterator[Question]:
        """Yield readings of volts at terminals that differ from one world to another."""
        position = self.outlook.position(setting)
        position.ask(self.worlds)
        nodes = self.known.readable[~position.swinging[self.known.readable]]
        foretold = volts_scale(position.volts[self.worlds[:, None], nodes])
        differs = np.ptp(foretold, axis=0) > ALIKE
        nodes, foretold = nodes[differs], foretold[:, differs]
        if not nodes.size:
            return
        mixed = np.sin(np.arange(1.0, len(self.worlds) + 1.0)) @ np.round(foretold / SAME)
        _, first, point = np.unique(np.round(mixed, 9), return_index=True, return_inverse=True)
        told = self._told(foretold[:, first], volts_scale(position.volts[NOTHING, nodes[first]]))
        for node, bits in zip(nodes.tolist(), told[point].tolist(), strict=True):
            name = self.known.names[node]
            if bits >= LEAST_BITS and ("volts", name, "", setting) not in self._asked:
                yield self._question("volts", name, "", setting, bits)

    def _looks(self, setting: Setting) -> Iterator[Question]:
        """Yield looks at loads that look otherwise in one world than in another."""
        columns = self.known.visible
        chances = looks_of(self.outlook, setting, self.worlds, columns)
        differs = np.flatnonzero(np.ptp(chances, axis=0).max(axis=1, initial=0.0) >= LOOKS_ALIKE)
        told = informations(self.weights, chances[:, differs], self.groups)
        for column, bits in zip(columns[differs].tolist(), told.tolist(), strict=True):
            at = "/".join(self.known.loads[column])
            if bits >= LEAST_BITS and ("looks", at, "", setting) not in self._asked:
                yield self._question("looks", at, "", setting, bits)

    def sitting(self) -> Iterator[Question]:
        """Yield looks at where an end is, of those that the likeliest suspects have elsewhere."""
        ends: dict[EndRef, None] = {}
        for world in self.worlds[:MOST_LOOKED_AT].tolist():
            for change in self.vehicle.worlds[world].changes:
                ends |= dict.fromkeys((moved.wire, moved.end) for moved in change.ends)
        for wire, number in ends:
            at = f"{wire}.{number}"
            if ("sits", at, "", ()) in self._asked:
                continue
            where = where_it_sits(self.vehicle, at, self.worlds)
            known = list(dict.fromkeys(where.tolist()))
            if len(known) > 1:
                outcomes = np.array([where == each for each in known], dtype=float).T
                bits = information(self.weights, outcomes, self.groups)
                address = self.vehicle.wired.loom.find(wire).ends[number].at
                if bits < LEAST_BITS:
                    continue
                yield Question("sits", at, "", (), bits, self._effort.of("sits", address, "", ()))

    def dead(self) -> Iterator[Question]:
        """Yield readings of ohms with the battery off, where the likeliest suspects would be mended."""
        pairs = [p for p in dict.fromkeys(self._pairs()) if ("ohms", *p, ()) not in self._asked][:MOST_DEAD]
        own = np.concatenate(([NOTHING], self.worlds))
        dead = self.outlook.dead
        read = [dead.ohms(at, to, own, has_fuses_out=self._is_out) for at, to in pairs]
        foretold = ohms_scale(np.array(read).reshape(-1, len(own)).T)
        told = self._told(foretold[1:], foretold[0])
        for (at, to), bits in zip(pairs, told.tolist(), strict=True):
            if bits >= LEAST_BITS:
                minutes = self._effort.of("ohms", at, to, ())
                yield Question("ohms", at, to, (), bits, minutes, self._is_out)

    def _told(self, foretold: Array, sound: Array) -> Array:
        """The bits that readings tell: a column each, a row for each world, on the meter's scale."""
        spread = spread_of(self.outlook, foretold, sound, self.worlds)
        agreed = agreement(foretold, foretold[:MOST_TRUTHS, None], spread)
        return lessening(self.weights, agreed, self.groups)

    def _pairs(self) -> Iterator[tuple[str, str]]:
        for suspect in self.hunt.suspects[:MOST_DEAD]:
            for number in suspect.mistakes:
                mend = [at for at in self.vehicle.mistakes[number].mend if self.known.can_be_reached(at)]
                for at in mend[:2]:
                    yield at, ""
                yield from pairwise(mend)

    def _question(self, kind: ObservationKind, at: str, to: str, setting: Setting, bits: float) -> Question:
        return Question(kind, at, to, setting, bits, self._effort.of(kind, at, to, setting))
