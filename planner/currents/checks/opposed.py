"""Sources that work against one another: one of more volts drives its current backwards through another.

Looked at where loads made a position worth solving, where a switch ties sources to one another, and at rest.
"""

from collections.abc import Iterator

from planner.currents.checks.inspection import Inspection
from planner.model.strain import Strain

# A battery of 50 Ah is charged with a fifth of that at most, and two like ones of unequal charge level out at
# about as much; one of other volts takes many times more. Common practice, no source.
TAKES_AMPS = 10.0
LEAST_AMPS = 0.01  # less is lack of digits
PRACTICE = "common practice, no source"


def strains(seen: Inspection) -> Iterator[Strain]:
    """Yield what each battery and feed takes from others at most, while no generator is at work."""
    for index, branch in (*seen.of_kind("source"), *seen.of_kind("feed")):
        samples = [sample for sample in seen.survey.carried.at(index) if not sample.is_generating]
        taken = ((seen.taken_amps(index, sample), sample) for sample in samples)
        amps, sample = max(taken, key=lambda found: found[0], default=(0.0, None))
        if sample is not None and amps > LEAST_AMPS:
            yield Strain(
                "opposed", branch.a, amps, TAKES_AMPS, "A", PRACTICE, PRACTICE, sample.told,
                momentary=sample.held > 0,
            )  # fmt: skip
