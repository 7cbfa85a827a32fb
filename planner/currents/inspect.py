"""All checks over one loom, and what of it a plan answers for: what was not so before."""

from collections.abc import Iterator, Mapping, Sequence

from planner.currents.checks import at_rest, contacts, fuses, instruments, loads, supply, terminals, wires
from planner.currents.checks.inspection import Inspection
from planner.model.need import Fault
from planner.model.strain import Strain

CHECKS = (wires, fuses, terminals, contacts, loads, supply, instruments, at_rest)
WORSE_BY = 1.1  # a strain that was there before counts only if it grew by more than this


def strains(seen: Inspection) -> tuple[Strain, ...]:
    """Every value that is held against a limit, the tightest first."""
    found = [*_unsettled(seen), *(strain for check in CHECKS for strain in check.strains(seen))]
    return tuple(sorted(found, key=lambda s: (-s.use, s.kind, s.at, s.leg or 0, s.note)))


def _unsettled(seen: Inspection) -> Iterator[Strain]:
    for sample in seen.survey.samples:
        for name in sample.point.unsettled:
            yield Strain(
                "unsettled", name[1], sample.point.residual_amps, 0.0, "A", "computed", "computed",
                seen.told(sample), note=" ".join(name),
            )  # fmt: skip


def by_identity(all_strains: Sequence[Strain]) -> dict[tuple[str, str, int | None], Strain]:
    """Strains by what makes them the same in two looms; of several the tightest."""
    found: dict[tuple[str, str, int | None], Strain] = {}
    for strain in all_strains:
        found.setdefault(strain.identity, strain)
    return found


def is_new(strain: Strain, before: Mapping[tuple[str, str, int | None], Strain]) -> bool:
    """Whether a strain that is over its limit is the plan's own."""
    old = before.get(strain.identity)
    return strain.is_over and (old is None or not old.is_over or strain.use > WORSE_BY * old.use)


def faults(after: tuple[Strain, ...], before: tuple[Strain, ...]) -> Iterator[Fault]:
    """Yield what a plan answers for."""
    known = by_identity(before)
    for strain in after:
        if is_new(strain, known):
            yield Fault(
                "strain", strain.kind, strain.at, strain.duty, (strain.position,),
                min(1.0, strain.use - 1.0), strain.path, strain=strain,
            )  # fmt: skip
