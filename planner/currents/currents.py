"""The electrical side of one job: every loom that a plan might be accepted with, held against its limits."""

from collections.abc import Set
from functools import cached_property

from planner.currents.checks.inspection import Inspection
from planner.currents.found import Found
from planner.currents.grid import Conditions, Grid, Pieces, compile_grid
from planner.currents.inspect import Identity, by_identity, faults, strains
from planner.currents.positions import Positions
from planner.currents.survey import survey
from planner.model.loom import Loom
from planner.model.need import Fault
from planner.model.strain import Strain
from planner.proof.prove import Prover


class Currents:
    """Looks at looms electrically; a loom it has seen is not looked at again.

    Raises InputError when first asked, if the catalogue's published tables cannot be used.
    """

    def __init__(self, prover: Prover, conditions: Conditions | None = None) -> None:
        self.prover, self.conditions = prover, conditions or Conditions()
        self.found = Found()
        self._pieces: Pieces = {}
        self._seen: dict[tuple[int, bool], tuple[Loom, Inspection, tuple[Strain, ...]]] = {}

    def inspection(self, loom: Loom) -> Inspection:
        """A loom with everything that checks look at."""
        return self._look(loom, thorough=True)[1]

    def strains(self, loom: Loom) -> tuple[Strain, ...]:
        """Every value that is held against a limit, the tightest first."""
        return self._look(loom, thorough=True)[2]

    def _look(self, loom: Loom, *, thorough: bool) -> tuple[Loom, Inspection, tuple[Strain, ...]]:
        found = self._seen.get((id(loom), thorough))
        if found is None:
            inspection = self._inspect(loom, thorough=thorough)
            found = self._seen[id(loom), thorough] = (loom, inspection, strains(inspection))
        return found  # the loom is kept with it, so that its id stays its own

    def _inspect(self, loom: Loom, *, thorough: bool) -> Inspection:
        """Survey a loom; what is as in the loom most like it is kept.

        Not ``thorough``: volts are looked for only where a relay may not pull in, which is enough to choose.
        """
        catalogue = self.prover.catalogue
        view = self.prover.view(loom)
        grid = compile_grid(loom, catalogue, catalogue.standards, self.conditions, self._pieces)
        like = self._most_like(grid, thorough=thorough)
        is_like = like is not None and like.survey.positions.view.net is view.net
        positions = like.survey.positions if like and is_like else Positions(view, self.found)
        found = survey(grid, positions, like.survey if like else None, thorough=thorough)
        return Inspection(found, loom, catalogue, catalogue.standards, like)

    def _most_like(self, grid: Grid, *, thorough: bool) -> Inspection | None:
        """What was seen of the loom most like one, looked at as thoroughly if that was done."""

        def unlike(seen: tuple[tuple[int, bool], Inspection]) -> tuple[int, bool]:
            (_, was_thorough), known = seen
            return len(known.survey.grid.as_set ^ grid.as_set), was_thorough != thorough

        each = ((key, inspection) for key, (_, inspection, _) in self._seen.items())
        found = min(each, key=unlike, default=None)
        return found[1] if found else None

    @cached_property
    def before(self) -> tuple[Strain, ...]:
        """What was strained before the work."""
        return self.strains(self.prover.before_loom)

    def faults(self, after: Loom, *, thorough: bool = False) -> tuple[Fault, ...]:
        """What a plan answers for: strains over their limit that were not there before."""
        strained = self._look(after, thorough=thorough)[2]
        return tuple(faults(strained, self._known_before, self.made(after)))

    def made(self, after: Loom) -> Set[str]:
        """The wires of a loom that the one before did not have."""
        return after.wire_index.keys() - self.prover.before_loom.wire_index.keys()

    @cached_property
    def _known_before(self) -> dict[Identity, Strain]:
        return by_identity(self.before)
