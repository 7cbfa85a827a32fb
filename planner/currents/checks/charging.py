"""Generators: whether their current arrives, and what each wire on its way has to stand."""

from collections.abc import Iterator

from planner.currents.checks.bundles import loaded_with
from planner.currents.checks.inspection import Inspection
from planner.currents.checks.wires import wire_limit
from planner.currents.sample import Sample
from planner.currents.tracing import LEAST_AMPS
from planner.model.elements import Source
from planner.model.outputs import is_for_the_spark
from planner.model.strain import Strain

# A wire that takes this share of a generator's current in some position takes all of it when the battery is
# flat: ours (invented).
OUTPUT_SHARE = 0.9
CHARGES_FROM_AMPS = 1.0  # a generator that gives less into a battery is not connected to it: ours (invented)
PRACTICE = "common practice, no source"


def strains(seen: Inspection) -> Iterator[Strain]:
    """Yield generators that charge nothing, and for each wire on the way of an output all that it may carry.

    What flows in the positions that were solved is less: a battery that is nearly full takes little.
    """
    yield from _charging(seen)
    for index, branch in seen.of_kind("wire"):
        most = max(_outputs(seen, index), key=lambda found: found[0], default=None)
        if most is not None:
            amps, sample = most
            wire, leg = seen.loom.find(branch.name[1]), int(branch.name[2])
            limit = wire_limit(seen, wire, leg, loaded := loaded_with(seen, wire, sample))
            yield Strain(
                "wire", wire.wire, amps, limit.value, "A", limit.source, limit.basis, sample.told,
                leg=leg, note="all that the generator gives", loaded=loaded,
            )  # fmt: skip


def _charging(seen: Inspection) -> Iterator[Strain]:
    """Yield the most that each generator gives to anything outside it, where there is a battery to charge."""
    sources = [(branch.name[1], index, seen.element(index)) for index, branch in seen.of_kind("source")]
    if all(isinstance(element, Source) and element.when for _, _, element in sources):
        return
    for place in dict.fromkeys(
        p for p, _, element in sources if isinstance(element, Source) and element.when
    ):
        if is_for_the_spark(seen.part_of(place)):
            continue
        own = [index for at, index, _ in sources if at == place]
        given = [(abs(s.amps[index]), s) for s in seen.survey.samples for index in own if s.is_closed(index)]
        if given:
            amps, sample = max(given, key=lambda found: found[0])
            yield Strain(
                "not-charging", place, amps, CHARGES_FROM_AMPS, "A", PRACTICE, PRACTICE, sample.told,
                is_least=True,
            )  # fmt: skip


def _outputs(seen: Inspection, wire: int) -> Iterator[tuple[float, Sample]]:
    """Yield what each generator gives at most whose current goes through a wire to a battery.

    A wire to loads may take nearly all that is given while much is on, but a flat battery takes none of it
    that way; and behind an open isolator no battery takes any.
    """
    sources = [(index, seen.element(index)) for index, _ in seen.of_kind("source")]
    batteries = [index for index, element in sources if isinstance(element, Source) and not element.when]
    for index, element in sources:
        assert isinstance(element, Source)
        if not element.when or element.most_amps is None:
            continue
        for sample in seen.survey.carried.at(wire):
            if batteries and not any(_charges_through(seen, sample, b, wire) for b in batteries):
                continue
            given = abs(sample.amps[index])
            if given > 0.1 and abs(sample.amps[wire]) >= OUTPUT_SHARE * given:
                yield element.most_amps, sample
                break


def _charges_through(seen: Inspection, sample: Sample, battery: int, wire: int) -> bool:
    """Whether a battery is charged, and by way of a wire."""
    charged = seen.taken_amps(battery, sample) > LEAST_AMPS
    return charged and sample.flow.shares(battery).get(wire, 0.0) >= OUTPUT_SHARE
