"""Flashers: what works only with the current that it was made for."""

from collections.abc import Iterator

from planner.currents.checks.inspection import Inspection
from planner.model.elements import Flasher
from planner.model.strain import Strain


def strains(seen: Inspection) -> Iterator[Strain]:
    """Yield flashers with too little or too much to switch."""
    for index, branch in seen.of_kind("flasher"):
        element = seen.element(index)
        assert isinstance(element, Flasher)
        samples = seen.survey.carried.at(index)
        found = [(abs(sample.amps[index]), sample) for sample in samples if not sample.is_generating]
        at_work = [(amps, sample) for amps, sample in found if amps > 1e-3]
        if not at_work:
            continue
        least, most = (pick(at_work, key=lambda each: each[0]) for pick in (min, max))
        source, basis = "rating of the part", "as the part's own data"
        yield Strain(
            "flasher-starved", branch.b, least[0], element.needs_amps, "A", source, basis,
            least[1].told, seen.loads_in(index, least[1]), duty="signal", is_least=True,
            note=f"{element.kind} flasher",
        )  # fmt: skip
        if element.most_amps:
            yield Strain(
                "flasher-overloaded", branch.b, most[0], element.most_amps, "A", source, basis,
                most[1].told, seen.loads_in(index, most[1]), duty="signal",
                note=f"{element.kind} flasher",
            )  # fmt: skip
