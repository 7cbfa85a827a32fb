"""All checks over one loom, and what of it a plan answers for: what was not so before."""

from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial

from planner.currents.checks import (
    at_rest,
    charging,
    contacts,
    earths,
    flashers,
    fuses,
    gauges,
    loads,
    opposed,
    supply,
    terminals,
    wires,
)
from planner.currents.checks.inspection import Inspection
from planner.model.need import Fault
from planner.model.strain import WORSE, Strain, StrainKind

CHECKS = (
    wires,
    charging,
    fuses,
    terminals,
    contacts,
    loads,
    opposed,
    earths,
    supply,
    flashers,
    gauges,
    at_rest,
)
# What warms or drops gradually has round limits, and the loads' ratings are round too: up to a tenth over one
# is told, and not laid to the work. Nor is what was over before and is hardly WORSE. Common practice,
# no source.
GRADUAL: frozenset[StrainKind] = frozenset(
    ("wire", "fuse-over-wire", "fuse", "tab", "contact", "generator", "resistor", "diode", "drop", "earth")
)
CLEARLY = 1.1
OF_A_WIRE: frozenset[StrainKind] = frozenset(("wire", "fuse-over-wire"))
# What a lamp of another system takes in the moment before it burns out is held against nothing that only
# wears or blows: no earth is laid and no fuse chosen for it. What could burn is told all the same.
OF_WHAT_BURNS_OUT: frozenset[StrainKind] = frozenset(("drop", "earth", "tab", "contact", "fuse", "generator"))
Identity = tuple[str, str, int | None]  # what makes strains the same in two looms


def strains(seen: Inspection) -> tuple[Strain, ...]:
    """Every value that is held against a limit, the tightest first."""
    found = [*_unsettled(seen), *(strain for check in CHECKS for strain in check.strains(seen))]
    lamps = (strain for strain in found if strain.kind == "over-voltage" and not strain.momentary)
    burnt = {load for strain in lamps if strain.is_over for load in strain.loads}
    told = (s for s in found if s.kind not in OF_WHAT_BURNS_OUT or burnt.isdisjoint(s.loads))
    once = seen.once
    trimmed = (each for s in told for each in once(("trimmed", id(s)), (s,), partial(_trimmed, seen, s)))
    return tuple(sorted(trimmed, key=lambda s: (-round(s.use, 6), s.kind, s.at, s.leg or 0, s.note)))


def _trimmed(seen: Inspection, strain: Strain) -> Iterator[Strain]:
    """Yield a strain with what its loads depend on of its position, and what drives generators.

    All of it if no load is named, or if wires beside it count: what loads those was put on for that.
    """
    if not strain.loads or (strain.kind == "wire" and strain.loaded > 1):
        yield strain
        return
    names = seen.moves(strain.loads)
    position = {name: value for name, value in strain.position.items() if name in names}
    yield strain if len(position) == len(strain.position) else replace(strain, position=position)


def _unsettled(seen: Inspection) -> Iterator[Strain]:
    for sample in seen.survey.samples:
        for name in sample.point.unsettled:
            yield Strain(
                "unsettled", name[1], sample.point.residual_amps, 0.0, "A", "computed", "computed",
                sample.told, note=" ".join(name),
            )  # fmt: skip


def by_identity(all_strains: Sequence[Strain]) -> dict[Identity, Strain]:
    """Strains by what makes them the same in two looms; of several the tightest."""
    found: dict[Identity, Strain] = {}
    for strain in all_strains:
        found.setdefault(strain.identity, strain)
        found.setdefault(strain.on_any_part, strain)
    return found


def same_before(strain: Strain, before: Mapping[Identity, Strain]) -> Strain | None:
    """The strain of the loom before that is the same: by what a tab or contact serves, else by where it is.

    A contact of the same mark that switches nothing of the same is another.
    """
    old = before.get(strain.on_any_part) or before.get(strain.identity)
    is_other = old is not None and old.kind == "contact" and set(old.loads).isdisjoint(strain.loads)
    return None if is_other and strain.loads else old


def is_new(strain: Strain, before: Mapping[Identity, Strain], made: Container[str] = ()) -> bool:
    """Whether a strain that is over its limit is the plan's own; without an operating point it always is.

    ``made`` are the wires that the plan makes: their size is still to choose, so no excess is too little.
    """
    if strain.kind == "unsettled":
        return True
    old = same_before(strain, before)
    is_tolerant = strain.kind in GRADUAL and not (strain.kind in OF_A_WIRE and strain.at in made)
    if strain.use <= (CLEARLY if is_tolerant else 1.0):
        return False
    return old is None or strain.use > old.use * (WORSE if old.is_over or strain.kind in GRADUAL else 1.0)


def _share(strain: Strain) -> float:
    """How far over its limit, in halves: a remedy may strain something else a hair more than before."""
    return round(2.0 * min(1.0, strain.use - 1.0)) / 2.0


def faults(
    after: tuple[Strain, ...], known: Mapping[Identity, Strain], made: Container[str] = ()
) -> Iterator[Fault]:
    """Yield what a plan answers for, with the strains ``known`` of the loom before; see ``by_identity``.

    ``made`` are the wires that the plan makes. Of the wires behind one fuse only the weakest.
    """
    fuses = set()
    for strain in after:
        if not is_new(strain, known, made) or (strain.kind == "fuse-over-wire" and strain.path in fuses):
            continue
        if strain.kind == "fuse-over-wire":
            fuses.add(strain.path)
        yield Fault(
            "strain", strain.kind, strain.at, strain.duty, (strain.position,),
            _share(strain), strain.path, strain=strain,
        )  # fmt: skip
