"""One work with everything that its tests are computed from."""

from dataclasses import dataclass, replace
from functools import cached_property

from planner.currents.checks.inspection import Inspection
from planner.currents.grid import Grid
from planner.model.catalogue import Catalogue
from planner.model.loom import split_address
from planner.testing.fuses import rated_amps
from planner.testing.mistakes.applied import Editor
from planner.testing.mistakes.every import every_mistake
from planner.testing.mistakes.mistake import Kind, Mistake
from planner.testing.page.blocked import electronic
from planner.testing.page.circuits import place_of
from planner.testing.page.excited import excited
from planner.testing.page.exposing import Exposer
from planner.testing.page.generating import Generating
from planner.testing.page.left_anywhere import elsewhere
from planner.testing.page.levels import Levels
from planner.testing.page.live import Live
from planner.testing.page.points import solve_sets
from planner.testing.page.probes import Probe
from planner.testing.page.setups import Stands
from planner.testing.page.unsteady import unsteady
from planner.testing.wired import Wired
from planner.workshop.tasks.posts import earthed_posts

# Times what a fuse carries for good: it goes in half a second or so, before a meter is read (from memory).
BLOWS_AT = 3.5
# What a person at the bench gets wrong with ends; what breaks by itself is looked for by ``trace``.
SLIPS: frozenset[Kind] = frozenset(
    (
        "end off", "ends traded", "mirror image", "wrong way round",
        "earth missing", "step forgotten", "step twice", "old part",
    )
)  # fmt: skip
STARTER = "starter"  # a family
# Of what sits on a wrong part only twins are looked at, told where a reading shows it: often it does no harm.
TWINS: Kind = "wrong part"


@dataclass(frozen=True)
class Ground:
    """One work with everything that its tests are computed from.

    ``left_off`` are the places whose feed is off while the battery is on, for they would not bear it.
    """

    wired: Wired
    seen: Inspection
    catalogue: Catalogue
    left_off: frozenset[str] = frozenset()

    @property
    def grid(self) -> Grid:
        """The branches of the vehicle as it should be."""
        return self.seen.survey.grid

    @cached_property
    def stands(self) -> Stands:
        """Settles positions of the vehicle as it should be."""
        return Stands(self.seen.survey.positions)

    @cached_property
    def exposer(self) -> Exposer:
        """Takes readings with and without mistakes."""
        sign = 1.0 if self.wired.loom.supply.earthed == "negative" else -1.0
        editor = Editor(self.wired.loom, self.grid, self.catalogue, self.catalogue.standards)
        posts = earthed_posts(self.wired.loom, self.catalogue.parts)
        generating = Generating(self.wired.loom, self.grid, self.catalogue.parts)
        levels = Levels(self.wired.loom, self.catalogue.parts)
        rest, names = self.stands.at({}).position, electronic(self.wired.loom, self.catalogue.parts)
        left = [position for _, position in elsewhere(self.stands.variables, rest)]
        rated = rated_amps(self.grid, self.wired.loom, self.catalogue.parts)
        blows = {self.grid.branches[index].branch.name: BLOWS_AT * amps for index, amps in rated.items()}
        still = unsteady(self.wired.loom, self.catalogue.parts)
        return Exposer(
            Live(self.grid, sign, excited(self.wired.loom, self.catalogue.parts)),
            editor,
            rest,
            posts,
            generating,
            levels,
            names,
            left,
            blows,
            still,
        )

    def can_be_read(self, probe: Probe) -> bool:
        """Whether a probe neither works nor touches a part whose feed is left off while the battery is on."""
        if probe.setup is None:
            return True
        touched = {split_address(tip)[0] for tip in (probe.at, probe.to)}
        return self.left_off.isdisjoint(touched | set(map(place_of, probe.setup.moved)))

    def tips_for_plus(self, probe: Probe) -> Probe:
        """The probe with its tips so that a good reading is no minus, where the positive pole is earthed.

        There the positive lead of what has a direction sits at the return.
        """
        if self.wired.loom.supply.earthed == "negative" or probe.setup is None:
            return probe
        closed = [self.grid.bare[index] for index in self.grid.closed(probe.setup.position)]
        (point,) = solve_sets([closed], self.grid.zero)
        is_plus = self.exposer.live.read(point, probe.at, probe.to) >= 0.0
        return probe if is_plus else replace(probe, at=probe.to, to=probe.at)

    @cached_property
    def _every(self) -> tuple[Mistake, ...]:
        return every_mistake(self.wired, self.grid, self.catalogue)

    def failures(self, kinds: frozenset[Kind]) -> list[Mistake]:
        """What may fail by itself, by its kinds, wherever it is: what the work had no hand in."""
        return [
            mistake
            for mistake in self._every
            if mistake.kind in kinds
            and not self._is_at_a_change(mistake)
            and self._is_of_a_part(mistake)
            and not self._cranks(mistake)
        ]

    def _cranks(self, mistake: Mistake) -> bool:
        """Whether a starter's contact stays closed: the engine turns, which nobody needs a meter for."""
        place = split_address(mistake.mend[0])[0]
        fitted = self.wired.loom.places.get(place)
        part = self.catalogue.parts[fitted.part] if fitted is not None else None
        return mistake.kind == "contact closed" and part is not None and part.family == STARTER

    def _is_of_a_part(self, mistake: Mistake) -> bool:
        """Whether it is inside a part, or the fixing of an old one: fixings of new parts are read anyhow."""
        heads = {name[0] for change in mistake.changes for name in change.gone}
        is_new = split_address(mistake.mend[0])[0] in self.wired.touched_places
        return bool(heads - {"wire", "body"}) and not (is_new and "mounting" in heads)

    def mistakes(self, kinds: frozenset[Kind] | None = None) -> list[Mistake]:
        """The mistakes at the ends that the work touched; of some kinds only, if they are named."""
        return [
            mistake
            for mistake in self._every
            if (kinds is None or mistake.kind in kinds or self._is_between_twins(mistake))
            and self._is_at_a_change(mistake)
        ]

    def _is_between_twins(self, mistake: Mistake) -> bool:
        """Whether a mistake trades two ends of the work on one mark of two like parts, side by side."""
        loom, ends = self.wired.loom, mistake.changes[0].ends
        if mistake.kind != TWINS or not {(end.wire, end.end) for end in ends} <= self.wired.touched_ends:
            return False
        places, marks = zip(*map(split_address, mistake.mend), strict=True)
        fitted = [loom.places[place] for place in places if place in loom.places]
        return len(fitted) == 2 and len(set(marks)) == 1 == len({(own.part, own.zone) for own in fitted})

    def _is_at_a_change(self, mistake: Mistake) -> bool:
        ends, wires = self.wired.touched_ends, self.wired.touched_wires
        return any(
            any((end.wire, end.end) in ends for end in change.ends)
            or any(name[0] == "wire" and name[1] in wires for name in change.gone)
            or bool(change.fits)
            for change in mistake.changes
        )
