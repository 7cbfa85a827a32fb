"""The wishes of a job against a proof: of which load and which positions each speaks."""

from collections.abc import Mapping, Sequence

from planner.circuit.appearance import percent_read
from planner.circuit.fitted import LoadKey
from planner.model.job import Wish
from planner.proof.align import Alignment

FULL_PERCENT = 100  # of a scale; what is read lies in steps of ten, so more is a needle at its stop


def speaking_of(wishes: Sequence[Wish], key: LoadKey) -> list[Wish]:
    """The wishes that speak of a load, at any place or at that of the load."""
    place, does = key
    return [wish for wish in wishes if wish.what == does and (not wish.at or place in wish.at)]


def is_as_wished(wish: Wish, appearance: str) -> bool:
    """Whether a load appears as a wish has it; an instrument works fully as long as it reads on its scale."""
    percent = percent_read(appearance)
    return wish.is_ == appearance or (wish.is_ == "full" and percent is not None and percent <= FULL_PERCENT)


class Meaning:
    """Which positions wishes mean, in the names that a proof has for controls and positions."""

    def __init__(self, alignment: Alignment) -> None:
        self.alignment = alignment
        self._known: dict[int, list[tuple[str, frozenset[str]]]] = {}

    def is_meant(self, wish: Wish, position: Mapping[str, str]) -> bool:
        """Whether a wish means a position; a variable that the load does not depend on is free."""
        for full, labels in self._meant(wish):
            label = position.get(full)
            if label is not None and label not in labels:
                return False
        return True

    def leaves_open(self, wish: Wish, position: Mapping[str, str]) -> bool:
        """Whether a wish names something that a position does not: what is so there is not so by that."""
        return any(self.alignment.full_name(name) not in position for name in wish.when)

    def free_of(self, wish: Wish, position: Mapping[str, str]) -> dict[str, str]:
        """What a wish says of controls on which the load does not depend, where it means one label each."""
        meant = ((full, labels) for full, labels in self._meant(wish) if full not in position)
        return {full: label for full, labels in meant if len(labels) == 1 for label in labels}

    def _meant(self, wish: Wish) -> list[tuple[str, frozenset[str]]]:
        """The positions that a wish speaks of, by the full names of variables."""
        found = self._known.get(id(wish))  # the job keeps its wishes for as long as this
        if found is None:
            full_names = ((self.alignment.full_name(name), values) for name, values in wish.when.items())
            found = self._known[id(wish)] = [
                (full, self.alignment.labels_meant(full, values))
                for full, values in full_names
                if full in self.alignment.controls
            ]
        return found
