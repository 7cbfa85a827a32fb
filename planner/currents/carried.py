"""In which of the solved positions each branch carries anything, and the most of it.

Most branches carry something in a few positions only. So a check that asks after one of them looks at those,
and its time does not grow with the rest of the loom.
"""

from array import array
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

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

    def __init__(
        self, samples: Sequence[Sample], like: "Carried | None" = None, changed: Sequence[int] = ()
    ) -> None:
        """``like`` is that of another loom's samples: all but the ``changed`` are the same, one by one."""
        self.samples = samples
        self._numbers: list[array[int]] = []  # by branch, of the samples
        self.lasting_peaks: dict[int, Peak] = {}  # for each branch the most that lasts
        if like is None:
            self._look_at_all()
            self.peaks: Mapping[int, Peak] = dict(self._peaks(range(len(self._numbers))))
        else:
            again = self._look_at(changed, like)
            self.peaks = {**like.peaks, **dict(self._peaks(again))}

    def _look_at_all(self) -> None:
        branches = len(self.samples[0].amps) if self.samples else 0
        numbers = self._numbers = [array("i") for _ in range(branches)]
        least = [-1.0] * branches  # from where on a current is the most so far
        most: dict[int, Sample] = {}
        for number, sample in enumerate(self.samples):
            lasts = not sample.held
            for index, amps in zip(sample.live, sample.sizes, strict=True):
                numbers[index].append(number)
                if lasts and amps > least[index]:
                    least[index], most[index] = amps + SAME, sample
        self.lasting_peaks = {
            index: Peak(abs(sample.amps[index]), sample, momentary=False) for index, sample in most.items()
        }

    def _look_at(self, changed: Sequence[int], like: "Carried") -> set[int]:
        """Take what is as before, and look again where one of the changed samples was the most, or may be.

        Returned are the branches whose peak may be another.
        """
        self._numbers = like._numbers
        peaks = self.lasting_peaks = dict(like.lasting_peaks)
        numbers = {id(sample): number for number, sample in enumerate(like.samples)}
        place = {index: numbers[id(peak.sample)] for index, peak in peaks.items()}
        gone = frozenset(changed)
        again = {index for index, number in place.items() if number in gone}
        least = {index: peak.amps - 2 * SAME for index, peak in peaks.items()}
        held: set[int] = set()
        for number in changed:
            sample = self.samples[number]
            if sample.held:
                held.update(sample.live)
            else:
                sizes = zip(sample.live, sample.sizes, strict=True)
                near = [(index, amps) for index, amps in sizes if amps > least[index]]
                # Of equal ones the first is told.
                again.update([i for i, amps in near if number < place[i] or amps > peaks[i].amps + SAME])
        for index in again:
            peaks[index] = self._peak(index, self.lasting_at(index))
        return again | held

    def _peak(self, index: int, samples: Iterable[Sample]) -> Peak:
        """The first of some samples in which a branch carries most."""
        most, least = None, -1.0
        for sample in samples:
            amps = abs(sample.amps.by_branch[index])
            if amps > least:
                most, least = sample, amps + SAME
        assert most is not None  # asked only where there is one
        return Peak(abs(most.amps[index]), most, most.held > 0)

    def _peaks(self, branches: Iterable[int]) -> Iterator[tuple[int, Peak]]:
        """Yield for branches the most that lasts, or what is held for a moment where nothing lasts."""
        for index in branches:
            lasting = self.lasting_peaks.get(index)
            if lasting is not None and lasting.amps >= LEAST_AMPS:
                yield index, lasting
                continue
            held = [sample for sample in self.at(index) if sample.held]
            peak = self._peak(index, held) if held else lasting
            if peak is not None:
                yield index, peak

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
                amps = sign * self.samples[number].amps.by_branch[index]
                totals[number] = totals.get(number, 0.0) + amps
        most: tuple[float, Sample] | None = None
        for number in sorted(totals):
            size, sample = abs(totals[number]), self.samples[number]
            if size > least and not sample.held:
                least, most = size + SAME, (size, sample)
        return most
