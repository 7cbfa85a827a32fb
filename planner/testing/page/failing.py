"""What fails by itself and reads as a slip does: a blown lamp, a contact that stays as it is, a case off.

No reading is chosen to show these, for the work made none of them. But a blown charge lamp leaves D+ dead as
a wire does that is off, and who is sent to each wire alone looks for long. So the first reading that one of
them makes wrong names it, after what a hand got wrong.
"""

from collections.abc import Mapping, Sequence

from planner.testing.mistakes.mistake import Kind
from planner.testing.page.answers import LEAST_APART
from planner.testing.page.bands import Band
from planner.testing.page.confirming import solved
from planner.testing.page.exposure import APART, Exposure, Name
from planner.testing.page.ground import Ground
from planner.testing.page.probes import Probe

Failed = tuple[float, str]  # what the meter reads, and the words for what has failed
FAILS: frozenset[Kind] = frozenset(("lamp failed", "contact open", "contact closed", "earth missing"))


def failing(
    ground: Ground, exposure: Exposure, bands: Mapping[Probe, Band]
) -> Mapping[Probe, Sequence[Failed]]:
    """For each probe what fails by itself and shows first there; the bands come in the order of reading.

    What takes a fuse with it is left out: its own line says so of the way to it.
    """
    failures = ground.failures(FAILS)
    words = {failure.id: failure.words for failure in failures}
    failed = ground.exposer.failed({probe: exposure.good[probe] for probe in bands}, failures)
    edits = dict(ground.exposer.edits(failures))
    names = {
        probe: list(edits) if is_rough(exposure, probe, band) else sorted(failed[probe])
        for probe, band in bands.items()
    }
    live = [(probe, name) for probe, own in names.items() if probe.setup is not None for name in own]
    asked = [(probe, edits[name]) for probe, name in live]
    readings = dict(zip(live, solved(ground.exposer, asked), strict=True))
    found: dict[Probe, list[Failed]] = {probe: [] for probe in bands}
    told: set[Name] = set()
    for probe, own in names.items():
        for name in own:
            reading, is_blown = readings.get((probe, name)) or (failed[probe][name], False)
            is_other = reading < bands[probe].low or reading > bands[probe].high + LEAST_APART
            if name not in told and not is_blown and is_other:
                told.add(name)
                found[probe].append((reading, words[name[0]]))
    return found


def is_rough(exposure: Exposure, probe: Probe, band: Band) -> bool:
    """Whether a live reading of nothing is no good one, though what a good one may be off, about, has it so.

    Behind a field or another curved load the first order says too much; all that may read nothing is solved.
    """
    good = exposure.good[probe]
    return probe.setup is not None and good.reading - APART * good.off <= 0.0 < band.low
