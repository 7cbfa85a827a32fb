"""Elimination of nodes, star to mesh, level by level: nodes that no branch joins go together.

``levels`` plans who goes when and where its numbers stand; after that a level costs the same few steps of
numpy whatever the number of its nodes. What is pushed into a node goes the way of a conductance that leads to
no node, so both are rows of one array. Only positive numbers are added to conductances, so no digits are
lost. A node that nothing joins in some point has the sum 0 there, and nothing is divided.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from planner.currents.curves import Array
from planner.currents.rows import Mask, Numbers, Sums, renumbered, total


@dataclass(frozen=True, slots=True)
class Level:
    """Nodes that go together, and what each has, slot by slot: its conductances, then what is pushed into it.

    A node with fewer neighbours than another has an empty slot, of the row that stays 0.
    """

    nodes: Numbers
    slots: int
    own: Numbers  # the rows of what they have
    others: Numbers  # which neighbour each leads to
    one: Numbers  # two slots of one node, by their place in ``own``: what they make together
    two: Numbers
    to_rows: Sums

    def only(self, kept: Mask, nodes: Numbers, rows: Numbers) -> "Level | None":
        """The same for the nodes that are kept, with their new numbers and those of the rows."""
        own = kept[self.nodes]
        width, left = len(self.nodes), int(np.count_nonzero(own))
        if not left:
            return None
        targets = rows[self.to_rows.of[self.to_rows.order]]
        stays = own[self.one % width] & (targets != nodes[-1])
        sums, place = Sums(targets[stays]), renumbered(own)
        one, two = (
            (left * (slot // width) + place[slot % width])[sums.order]
            for slot in (self.one[stays], self.two[stays])
        )
        return Level(
            nodes[self.nodes[own]],
            self.slots,
            rows[self.own.reshape(self.slots, width)[:, own].ravel()],
            nodes[self.others.reshape(self.slots, width)[:, own].ravel()],
            one,
            two,
            sums,
        )


class Elimination:
    """Nodes and the order in which they go.

    ``pairs`` are the nodes that are joined, or come to be; their conductances stand in that order. Before
    these rows stand those of what is pushed into each node, and one that stays 0.
    """

    def __init__(self, nodes: int, pairs: Numbers, levels: Sequence[Level]) -> None:
        self.nodes, self.pairs, self.levels = nodes, pairs, levels
        self.height = nodes + 1 + len(pairs)

    def only(self, kept: Mask) -> tuple["Elimination", Numbers]:
        """The same for some of the nodes, where nothing joins those to others; and its rows.

        They are told for each row of this one, those that are gone as the row that stays 0. What is found has
        the same digits: only what was 0 everywhere is not added.
        """
        nodes = renumbered(np.append(kept, np.False_))
        one, other = self.pairs.T
        is_left: Mask = kept[one] & kept[other]
        pairs = nodes[self.pairs[is_left]]
        count = int(nodes[-1])
        rows = np.concatenate((nodes, np.where(is_left, count + 1 + renumbered(is_left), count)))
        levels = (level.only(kept, nodes, rows) for level in self.levels)
        return Elimination(count, pairs, [level for level in levels if level is not None]), rows

    def take_out(self, rows: Array) -> list[Array]:
        """Eliminate in place; what is left stands in the rows of those that stay.

        What is returned leads back: by level and slot the share that each neighbour's volts have in a node's,
        and last the volts that the node has on its own.
        """
        gone = []
        for level in self.levels:
            own = rows.take(level.own, axis=0)
            slots = own.reshape(level.slots, len(level.nodes), own.shape[1])
            around = total(slots[:-1])
            ohms = np.divide(1.0, around, out=np.zeros(around.shape), where=around > 0.0)
            shares = slots * ohms
            met = shares.reshape(own.shape).take(level.one, axis=0)
            met *= own.take(level.two, axis=0)
            level.to_rows.add_sorted(rows, met)
            gone.append(shares)
        return gone

    def put_back(self, volts: Array, gone: Sequence[Array]) -> None:
        """Fill in the volts of the eliminated nodes, the last ones first.

        Below all nodes stands a row of 1.
        """
        for level, shares in zip(reversed(self.levels), reversed(gone), strict=True):
            near = volts.take(level.others, axis=0).reshape(shares.shape)
            near *= shares
            volts[level.nodes] = total(near)

    def reach(self, joined: Array, gone: Sequence[Array]) -> None:
        """Whether the eliminated nodes are joined to one of those left that is: 1, or else 0.

        Below all nodes stands a row of 0.
        """
        for level, shares in zip(reversed(self.levels), reversed(gone), strict=True):
            near = joined.take(level.others, axis=0).reshape(shares.shape) * (shares > 0.0)
            joined[level.nodes] = total(near) > 0.0
