"""All checks over one loom, and what of it a plan answers for: what was not so before."""

from collections.abc import Iterator, Mapping

from planner.currents.checks import at_rest, contacts, fuses, instruments, loads, terminals, wires
from planner.currents.checks.inspection import Inspection
from planner.model.need import Fault
from planner.model.strain import Strain

CHECKS = (wires, fuses, terminals, contacts, loads, instruments, at_rest)
WORSE_BY = 1.05  # a strain that was there before counts only if it grew by more than this


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


def is_new(strain: Strain, before: Mapping[tuple[object, ...], Strain]) -> bool:
    """Whether a strain that is over its limit is the plan's own."""
    old = before.get(strain.identity)
    return strain.is_over and (old is None or not old.is_over or strain.use > WORSE_BY * old.use)


def faults(after: tuple[Strain, ...], before: tuple[Strain, ...]) -> Iterator[Fault]:
    """Yield what a plan answers for."""
    known: dict[tuple[object, ...], Strain] = {}
    for strain in before:
        known.setdefault(strain.identity, strain)
    for strain in after:
        if is_new(strain, known):
            yield Fault(
                "strain", strain.kind, strain.at, strain.duty, (strain.position,),
                min(1.0, strain.use - 1.0), strain.path, strain=strain,
            )  # fmt: skip
