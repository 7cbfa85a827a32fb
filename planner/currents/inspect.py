"""All checks over one loom, and what of it a plan answers for: what was not so before."""

from collections.abc import Iterator, Mapping, Sequence

from planner.currents.checks import (
    at_rest,
    charging,
    contacts,
    earths,
    flashers,
    fuses,
    gauges,
    loads,
    supply,
    terminals,
    wires,
)
from planner.currents.checks.inspection import Inspection
from planner.model.need import Fault
from planner.model.strain import Strain

CHECKS = (wires, charging, fuses, terminals, contacts, loads, earths, supply, flashers, gauges, at_rest)
# Limits are round figures and the loads' ratings too: less than this more is not laid to the work, though it
# is told. Over a limit that was kept a twentieth counts, over one that was passed before three twentieths,
# which is less than from one fuse to the next. Common practice, no source.
MORE, WORSE = 1.05, 1.15


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
    if not strain.is_over or old is None:
        return strain.is_over
    return strain.use > old.use * (WORSE if old.is_over else MORE)


def faults(after: tuple[Strain, ...], before: tuple[Strain, ...]) -> Iterator[Fault]:
    """Yield what a plan answers for."""
    known = by_identity(before)
    for strain in after:
        if is_new(strain, known):
            yield Fault(
                "strain", strain.kind, strain.at, strain.duty, (strain.position,),
                min(1.0, strain.use - 1.0), strain.path, strain=strain,
            )  # fmt: skip
