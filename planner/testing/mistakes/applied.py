"""A change made to a loom, as far as a loom can say it, and to the branches of its grid."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from planner.currents.grid import BODY, Gated, Grid, Tables, compile_grid
from planner.currents.laws import Resistance
from planner.currents.resistances import BODY_OHMS
from planner.currents.solver import Branch
from planner.model.catalogue import Catalogue
from planner.model.delta import copy_loom, with_end
from planner.model.loom import Loom, split_address
from planner.testing.mistakes.mistake import BranchName, Change, EndAt


@dataclass(frozen=True, slots=True)
class Edit:
    """A change as branches: the indices of those that go, and those that come."""

    gone: frozenset[int]
    added: tuple[Gated, ...]


def changed_loom(loom: Loom, change: Change) -> Loom:
    """The loom with ends and parts as a change has them; what only branches can say is left as it is."""
    wires = list(loom.wires)
    for wire, number, at in change.ends:
        index = loom.wire_index[wire]
        wires[index] = with_end(wires[index], number, at=at)
    places = dict(loom.places)
    for place, part in change.fits:
        places[place] = places[place].model_copy(update={"part": part})
    return copy_loom(loom, wires=tuple(wires), places=places)


def changed_grid(grid: Grid, edit: Edit) -> Grid:
    """A grid with an edit made; every branch that stays keeps its order."""
    kept = [gated for index, gated in enumerate(grid.branches) if index not in edit.gone]
    branches = (*kept, *edit.added)
    loads = {
        gated.branch.name[1:]: index for index, gated in enumerate(branches) if gated.branch.name[0] == "load"
    }
    return Grid(grid.zero, branches, {(place, does): index for (place, does), index in loads.items()})


class Editor:
    """Turns changes of one loom into edits of its grid."""

    def __init__(self, loom: Loom, grid: Grid, catalogue: Catalogue, tables: Tables) -> None:
        self.loom, self.grid, self.catalogue, self.tables = loom, grid, catalogue, tables

    @cached_property
    def by_name(self) -> Mapping[BranchName, int]:
        """Where each branch stands; a name that is there twice (a lamp of two settings) has its first."""
        found: dict[BranchName, int] = {}
        for index, gated in enumerate(self.grid.branches):
            found.setdefault(gated.branch.name, index)
        return found

    @cached_property
    def _nodes(self) -> frozenset[str]:
        return frozenset(node for g in self.grid.branches for node in (g.branch.a, g.branch.b))

    @cached_property
    def _by_head(self) -> Mapping[BranchName, list[int]]:
        found: dict[BranchName, list[int]] = {}
        for index, gated in enumerate(self.grid.branches):
            name = gated.branch.name
            for length in range(2, len(name) + 1):
                found.setdefault(name[:length], []).append(index)
        return found

    def named(self, *head: str) -> list[int]:
        """The branches whose names begin so."""
        return self._by_head.get(head, [])

    def edit(self, change: Change) -> Edit:
        """A change as branches."""
        gone = {index for name in change.gone for index in self.named(*name)}
        added = list(change.added)
        wires = {end.wire for end in change.ends}
        for wire in sorted(wires):
            gone |= set(self.named("wire", wire))
            added += self._laid(wire, [end for end in change.ends if end.wire == wire])
        for place, part in change.fits:
            gone |= {
                index
                for index, gated in enumerate(self.grid.branches)
                if gated.branch.name[1].partition(":")[0] == place
                and gated.kind not in ("wire", "body", "feed")
            }
            added += self._fitted(place, part)
        return Edit(frozenset(gone), (*added, *self._bodies(added)))

    def _laid(self, wire: str, ends: list[EndAt]) -> Iterator[Gated]:
        """Yield the legs of a wire with some ends elsewhere."""
        record = self.loom.find(wire)
        at = {number: end.at for number, end in enumerate(record.ends)} | {e.end: e.at for e in ends}
        nodes = [
            f"end:{wire}:{number}" if address in ("loose", "unknown") else address
            for number, address in sorted(at.items())
        ]
        for leg, (a, b) in enumerate(pairwise(nodes)):
            index = self.by_name["wire", wire, str(leg)]
            branch = self.grid.branches[index].branch
            yield Gated(branch._replace(a=a, b=b), ())

    def _fitted(self, place: str, part: str) -> Iterator[Gated]:
        """Yield what another part brings to a place."""
        alone = copy_loom(
            self.loom,
            wires=(),
            feeds={},
            places={place: self.loom.places[place].model_copy(update={"part": part})},
            fuses={},
        )
        for gated in compile_grid(alone, self.catalogue, self.tables).branches:
            if gated.kind != "body":
                yield gated

    def _bodies(self, added: list[Gated]) -> Iterator[Gated]:
        """Yield the way through the body for a zone in which nothing was earthed before."""
        added_nodes = {node for gated in added for node in (gated.branch.a, gated.branch.b)}
        for node in sorted(added_nodes - self._nodes):
            place, zone = split_address(node)
            if place == BODY and zone:
                yield Gated(Branch(("body", zone), node, BODY, Resistance(BODY_OHMS)), ())
