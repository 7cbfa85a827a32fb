"""In which of the solved positions each load is meant to work fully, and the volts across it there."""

from collections import defaultdict
from collections.abc import Mapping, Sequence

from planner.circuit.fitted import LoadKey
from planner.currents.sample import Sample

Volts = Sequence[tuple[float, Sample]]  # negative where a load's second terminal is the more positive one


class AtWork:
    """Some samples, by the loads that are meant to work fully in them."""

    def __init__(
        self, samples: Sequence[Sample], like: "AtWork | None" = None, changed: Sequence[int] = ()
    ) -> None:
        """``like`` is that of another loom's samples: all but the ``changed`` are the same, one by one."""
        self.samples, self._changed = samples, changed
        self._numbers: Mapping[LoadKey, Sequence[int]] = like._numbers if like else self._by_load()
        self._places: dict[tuple[LoadKey, bool], Mapping[int, int]] = like._places if like else {}
        self._there: Mapping[tuple[LoadKey, bool], Volts] = like._volts if like else {}
        self._volts: dict[tuple[LoadKey, bool], Volts] = {}  # as far as anybody asked

    def _by_load(self) -> Mapping[LoadKey, Sequence[int]]:
        found: defaultdict[LoadKey, list[int]] = defaultdict(list)
        for number, sample in enumerate(self.samples):
            for key in sample.at_work:
                found[key].append(number)
        return found

    def at(self, key: LoadKey) -> Sequence[Sample]:
        """The samples in which a load is meant to work fully, in their order."""
        return [self.samples[number] for number in self._numbers.get(key, ())]

    def volts(self, key: LoadKey, *, engine: bool) -> Volts:
        """Volts across a load in every sample in which it is meant to work fully.

        Not while others are held for a moment, unless it only works then. ``engine``: with a generator at
        work as well.
        """
        asked = key, engine
        if asked not in self._volts:
            self._volts[asked] = self._as_before(asked) if asked in self._there else self._look_at_all(asked)
        return self._volts[asked]

    def _look_at_all(self, asked: tuple[LoadKey, bool]) -> Volts:
        key, engine = asked
        numbers = [n for n in self._numbers.get(key, ()) if engine or not self.samples[n].is_generating]
        held = min((self.samples[n].held for n in numbers), default=0)
        numbers = [n for n in numbers if self.samples[n].held == held]
        self._places[asked] = {number: place for place, number in enumerate(numbers)}
        return [self._at(key, number) for number in numbers]

    def _as_before(self, asked: tuple[LoadKey, bool]) -> Volts:
        places, found = self._places[asked], list(self._there[asked])
        for number in self._changed:
            if number in places:
                found[places[number]] = self._at(asked[0], number)
        return found

    def _at(self, key: LoadKey, number: int) -> tuple[float, Sample]:
        sample = self.samples[number]
        return sample.volts_at_work[key], sample
