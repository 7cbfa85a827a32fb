"""The electrical side of one job: every loom that a plan might be accepted with, held against its limits."""

from functools import cached_property

from planner.currents.checks.inspection import Inspection
from planner.currents.found import Found
from planner.currents.grid import Conditions, Pieces, compile_grid
from planner.currents.inspect import Identity, by_identity, faults, strains
from planner.currents.positions import Positions
from planner.currents.survey import survey
from planner.currents.surveyed import Survey
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
        self._surveys: list[Survey] = []
        self._pieces: Pieces = {}
        self._inspections: dict[int, Inspection] = {}  # by the survey, which is kept
        self._seen: dict[tuple[int, bool], tuple[Loom, Inspection, tuple[Strain, ...]]] = {}

    def survey(self, loom: Loom, *, thorough: bool = True) -> Survey:
        """The worst of every branch and load of a loom; what is as in the loom most like it is kept.

        Not ``thorough``: volts are looked for only where a relay may not pull in, which is enough to choose.
        """
        catalogue = self.prover.catalogue
        view = self.prover.view(loom)
        grid = compile_grid(loom, catalogue, catalogue.standards, self.conditions, self._pieces)
        like = min(self._surveys, key=lambda known: len(known.grid.as_set ^ grid.as_set), default=None)
        is_like = like is not None and like.positions.view.net is view.net
        positions = like.positions if like and is_like else Positions(view, self.found)
        found = survey(grid, positions, like, thorough=thorough)
        self._surveys.append(found)
        return found

    def inspection(self, loom: Loom) -> Inspection:
        """A loom with everything that checks look at."""
        return self._look(loom, thorough=True)[1]

    def strains(self, loom: Loom) -> tuple[Strain, ...]:
        """Every value that is held against a limit, the tightest first."""
        return self._look(loom, thorough=True)[2]

    def _look(self, loom: Loom, *, thorough: bool) -> tuple[Loom, Inspection, tuple[Strain, ...]]:
        found = self._seen.get((id(loom), thorough))
        if found is None:
            catalogue = self.prover.catalogue
            surveyed = self.survey(loom, thorough=thorough)
            like = self._inspections.get(id(surveyed.like))
            inspection = Inspection(surveyed, loom, catalogue, catalogue.standards, like)
            self._inspections[id(surveyed)] = inspection
            found = self._seen[id(loom), thorough] = (loom, inspection, strains(inspection))
        return found  # the loom is kept with it, so that its id stays its own

    @cached_property
    def before(self) -> tuple[Strain, ...]:
        """What was strained before the work."""
        return self.strains(self.prover.before_loom)

    def faults(self, after: Loom, *, thorough: bool = False) -> tuple[Fault, ...]:
        """What a plan answers for: strains over their limit that were not there before."""
        return tuple(faults(self._look(after, thorough=thorough)[2], self._known_before))

    @cached_property
    def _known_before(self) -> dict[Identity, Strain]:
        return by_identity(self.before)
