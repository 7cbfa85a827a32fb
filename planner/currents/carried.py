"""In which of the solved positions each branch carries anything, and the most of it.

Most branches carry something in a few positions only. So a check that asks after one of them looks at those,
and its time does not grow with the rest of the loom.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from planner.currents.sample import Sample

SAME = 1e-9  # volts or amps that one position may have more than another and still be no worse
LEAST_AMPS = 1e-6  # less lasts nowhere: then what is held for a moment counts


@dataclass(frozen=True, slots=True)
class Peak:
    """The most current in a branch, and whether it lasts."""

    amps: float
    sample: Sample
    momentary: bool


class Carried:
    """Some samples, by the branches that are live in them."""

    def __init__(self, samples: Sequence[Sample], like: "Carried | None" = None) -> None:
        """``like`` is that of the samples of a loom with the same branches."""
        self.samples = samples
        self._numbers: list[list[int]] = []  # by branch, of the samples
        self.lasting_peaks: dict[int, Peak] = {}  # for each branch the most that lasts
        self._held_peaks: dict[int, Peak] = {}
        changed = _changed(samples, like.samples) if like else None
        if like is None or changed is None:
            self._look_at_all()
        else:
            self._look_at(changed, like)

    def _look_at_all(self) -> None:
        branches = len(self.samples[0].amps) if self.samples else 0
        numbers = self._numbers = [[] for _ in range(branches)]
        lasting, held = ([-1.0] * branches for _ in range(2))  # from where on a current is the most so far
        most_lasting: dict[int, Sample] = {}
        most_held: dict[int, Sample] = {}
        for number, sample in enumerate(self.samples):
            least, most = (held, most_held) if sample.held else (lasting, most_lasting)
            for index, amps in zip(sample.live, sample.sizes, strict=True):
                numbers[index].append(number)
                if amps > least[index]:
                    least[index], most[index] = amps + SAME, sample
        self.lasting_peaks, self._held_peaks = dict(_peaks(most_lasting)), dict(_peaks(most_held))

    def _look_at(self, changed: Sequence[int], like: "Carried") -> None:
        """Take what is as before, and look again where one of the changed samples was the most, or may be."""
        self._numbers = like._numbers
        self.lasting_peaks, self._held_peaks = dict(like.lasting_peaks), dict(like._held_peaks)
        gone = {id(like.samples[number]) for number in changed}
        for peaks, is_held in ((self.lasting_peaks, False), (self._held_peaks, True)):
            again = {index for index, peak in peaks.items() if id(peak.sample) in gone}
            least = {index: peak.amps - 2 * SAME for index, peak in peaks.items()}
            for sample in (self.samples[number] for number in changed):
                if (sample.held > 0) == is_held:
                    sizes = zip(sample.live, sample.sizes, strict=True)
                    again.update([index for index, amps in sizes if amps > least[index]])
            for index in again:
                peaks[index] = self._peak(index, is_held)

    def _peak(self, index: int, is_held: bool) -> Peak:
        most, least = None, -1.0
        for number in self._numbers[index]:
            sample = self.samples[number]
            amps = abs(sample.amps[index])
            if amps > least and (sample.held > 0) == is_held:
                most, least = sample, amps + SAME
        assert most is not None  # asked only where there was one
        return Peak(abs(most.amps[index]), most, is_held)

    def at(self, *branches: int) -> Sequence[Sample]:
        """The samples in which one of some branches carries anything, in their order."""
        numbers: Iterable[int] = self._numbers[branches[0]]
        if len(branches) > 1:
            numbers = sorted({number for branch in branches for number in self._numbers[branch]})
        return [self.samples[number] for number in numbers]

    def lasting_at(self, *branches: int) -> Sequence[Sample]:
        """Those of them in which nothing is held for a moment."""
        return [sample for sample in self.at(*branches) if not sample.held]

    def most_together(self, legs: Sequence[tuple[int, float]], least: float) -> tuple[float, Sample] | None:
        """The most that some branches, each with its sign, carry together for good, and where.

        None if it is no more than the ``least``. With a sign of -1 a branch is looked at from its other end.
        """
        totals: dict[int, float] = {}
        for index, sign in legs:
            for number in self._numbers[index]:
                totals[number] = totals.get(number, 0.0) + sign * self.samples[number].amps[index]
        most: tuple[float, Sample] | None = None
        for number in sorted(totals):
            amps, sample = abs(totals[number]), self.samples[number]
            if amps > least and not sample.held:
                least, most = amps + SAME, (amps, sample)
        return most

    @cached_property
    def peaks(self) -> Mapping[int, Peak]:
        """For each branch the most that lasts, or what is held for a moment where nothing lasts."""
        lasting = {index: peak for index, peak in self.lasting_peaks.items() if peak.amps >= LEAST_AMPS}
        return self.lasting_peaks | self._held_peaks | lasting


def _changed(samples: Sequence[Sample], others: Sequence[Sample]) -> list[int] | None:
    """The samples that are not those of another loom; None if they do not stand for one another."""
    if len(samples) != len(others):
        return None
    changed = [number for number, sample in enumerate(samples) if sample is not others[number]]
    for number in changed:
        sample, other = samples[number], others[number]
        if sample.held != other.held or sample.live != other.live:
            return None
    return changed


def _peaks(most: Mapping[int, Sample]) -> Iterator[tuple[int, Peak]]:
    for index, sample in most.items():
        yield index, Peak(abs(sample.amps[index]), sample, sample.held > 0)
