"""The readings that could be taken next in a hunt, each with the bits that it is expected to tell."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from planner.currents.curves import Array
from planner.model.delta import EndRef
from planner.model.observations import ObservationKind
from planner.testing.hunt.agreeing import looks_of, spread_of, where_it_sits
from planner.testing.hunt.ahead import SAME, lessening
from planner.testing.hunt.hunt import Hunt
from planner.testing.hunt.solving import Setting
from planner.testing.hunt.tolerance import SURE_VOLTS, ohms_scale, volts_scale
from planner.testing.hunt.vehicle import NOTHING
from planner.testing.hunt.weighing import Groups, entropy, grouped, information, informations, shares

MOST_WORLDS = 100  # that take part in choosing, the likeliest
MOST_WEIGHT = 0.99  # what these have together: who is left could lessen what is not known by next to nothing
LEAST_WORLDS = 24  # that take part nevertheless: where the likeliest does not explain everything, it goes on
MOST_LOOKED_AT = 80  # worlds whose ends are thought of to be looked at
MOST_DEAD = 24  # pairs of points between which ohms are considered
LEAST_BITS = 0.08  # a reading that is expected to tell less is not worth taking
SAME_LIGHT = 1e-3  # of its rated power: a load that differs less looks the same


class Offer(NamedTuple):
    """A reading that could be taken, and the bits that it is expected to tell."""

    bits: float
    kind: ObservationKind
    at: str
    to: str
    setting: Setting
    has_fuses_out: bool = False


class Offers:
    """Readings for one hunt as it stands."""

    def __init__(self, hunt: Hunt) -> None:
        self.hunt, self.known = hunt, hunt.known
        self.outlook, self.vehicle = hunt.known.outlook, hunt.vehicle
        most = int(np.searchsorted(np.cumsum(hunt.weights), MOST_WEIGHT)) + 1
        count = min(MOST_WORLDS, max(LEAST_WORLDS, most))
        self.worlds, self.weights = hunt.worlds[:count], hunt.weights[:count]
        self.groups: Groups = np.unique(self.vehicle.answers[self.worlds], return_inverse=True)[1]
        self._is_out = hunt.is_before_power
        self._asked = {
            (o.kind, o.at, o.to, o.settings)
            for o in hunt.observations
            if o.kind != "ohms" or o.has_fuses_out == self._is_out
        }

    def is_known(self, kind: ObservationKind, at: str, setting: Setting) -> bool:
        """Whether something was read already."""
        return (kind, at, "", setting) in self._asked

    def at_most(self, setting: Setting) -> float:
        """The bits that no reading in a setting tells more than: all who change nothing there are one."""
        changing = self.outlook.position(setting).changing(NOTHING)[self.worlds]
        return entropy(grouped(shares(self.weights), np.where(changing, self.groups + 1, 0)))

    def in_settings(self, settings: Sequence[Setting]) -> Iterator[Offer]:
        """Yield readings of volts and looks at loads in some settings."""
        yield from self._volts(settings)
        yield from self._looks(settings)

    def _volts(self, settings: Sequence[Setting]) -> Iterator[Offer]:
        """Yield readings of volts at terminals that differ from one world to another."""
        points, parts, sound = [], [], []
        for setting in settings:
            position = self.outlook.position(setting)
            nodes = self.known.steady(setting)
            volts = position.volts(self.worlds, nodes)
            differs = volts.max(axis=0, initial=-np.inf) - volts.min(axis=0, initial=np.inf) > SURE_VOLTS
            points += [(setting, node) for node in nodes[differs].tolist()]
            parts.append(volts[:, differs])
            sound.append(position.settling.sound.volts[nodes[differs]])
        if not points:
            return
        foretold = volts_scale(np.concatenate(parts, axis=1))
        mixed = np.sin(np.arange(1.0, len(self.worlds) + 1.0)) @ np.round(foretold / SAME)
        _, first, point = np.unique(np.round(mixed, 9), return_index=True, return_inverse=True)
        told = self._told(foretold[:, first], volts_scale(np.concatenate(sound)[first]))[point]
        for n in np.flatnonzero(told >= LEAST_BITS).tolist():
            setting, node = points[n]
            name = self.known.names[node]
            if ("volts", name, "", setting) not in self._asked:
                yield Offer(float(told[n]), "volts", name, "", setting)

    def _looks(self, settings: Sequence[Setting]) -> Iterator[Offer]:
        """Yield looks at loads that look otherwise in one world than in another."""
        points, parts = [], []
        for setting in settings:
            columns = self.known.visible
            if not self.outlook.position(setting).is_beating(self.worlds).any():
                light = self.outlook.powers(setting, self.worlds, columns)
                columns = columns[np.ptp(light, axis=0) > SAME_LIGHT]
            if columns.size:
                points += [(setting, column) for column in columns.tolist()]
                parts.append(looks_of(self.outlook, setting, self.worlds, columns))
        if not points:
            return
        told = informations(self.weights, np.concatenate(parts, axis=1), self.groups)
        for n in np.flatnonzero(told >= LEAST_BITS).tolist():
            setting, column = points[n]
            at = "/".join(self.known.loads[column])
            if ("looks", at, "", setting) not in self._asked:
                yield Offer(float(told[n]), "looks", at, "", setting)

    def sitting(self) -> Iterator[Offer]:
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
                if bits >= LEAST_BITS:
                    yield Offer(bits, "sits", at, "", ())

    def dead(self) -> Iterator[Offer]:
        """Yield readings of ohms with the battery off, where the likeliest suspects would be mended."""
        pairs = [p for p in dict.fromkeys(self._pairs()) if ("ohms", *p, ()) not in self._asked][:MOST_DEAD]
        if not pairs:
            return
        own = np.concatenate(([NOTHING], self.worlds))
        dead = self.outlook.dead
        read = [dead.ohms(at, to, own, has_fuses_out=self._is_out) for at, to in pairs]
        foretold = ohms_scale(np.array(read).T)
        told = self._told(foretold[1:], foretold[0])
        for (at, to), bits in zip(pairs, told.tolist(), strict=True):
            if bits >= LEAST_BITS:
                yield Offer(bits, "ohms", at, to, (), self._is_out)

    def _told(self, foretold: Array, sound: Array) -> Array:
        """The bits that readings tell: a column each, a row for each world, on the meter's scale."""
        spread = spread_of(self.outlook, foretold, sound, self.worlds)
        return lessening(self.weights, foretold, spread, self.groups)

    def _pairs(self) -> Iterator[tuple[str, str]]:
        for suspect in self.hunt.suspects[:MOST_DEAD]:
            for number in suspect.mistakes:
                mend = [
                    at
                    for at in self.vehicle.mistakes[number].mend
                    if self.known.can_be_reached(at) and not self.known.is_pole(at)
                ]
                for at in mend[:2]:
                    yield at, ""
                yield from pairwise(mend)
