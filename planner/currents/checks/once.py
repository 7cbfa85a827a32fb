"""What a check made of what it read: in a loom much like it the same is not made again.

A check says for each thing that it looks at what it reads of the survey and of the loom's wires. If that is
the same in the other loom, so is what it makes: all else that it reads is the same.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import TypeVar, cast

from planner.currents.sample import Sample

Made = TypeVar("Made")


class Once:
    """What the checks made of one loom; ``like`` is that of one which differs in wires and currents only."""

    def __init__(self, like: "Once | None" = None) -> None:
        self._made: dict[object, tuple[tuple[object, ...], Sequence[object]]] = {}
        self._there = like._made if like else {}
        self._each: dict[str, Mapping[int, Sequence[object]]] = {}  # of samples, by their numbers
        self._each_there = like._each if like else {}

    def __call__(
        self, thing: object, reads: tuple[object, ...], make: Callable[[], Iterable[Made]]
    ) -> Sequence[Made]:
        """What is made of a thing, which hangs on nothing but what is read."""
        known = self._made.get(thing) or self._there.get(thing)
        if known is None or known[0] != reads:
            known = (reads, tuple(make()))
        self._made[thing] = known
        return cast("Sequence[Made]", known[1])

    def of_each(
        self,
        thing: str,
        samples: Sequence[Sample],
        changed: Sequence[int] | None,
        make: Callable[[Sample], Iterable[Made]],
    ) -> Mapping[int, Sequence[Made]]:
        """What is made of each sample, by its number; those of which nothing is are left out.

        ``changed`` are the numbers of those that are not the samples of the other loom; None if any may be.
        """
        there = self._each_there.get(thing) if changed is not None else None
        found = dict(there or {})
        for number in range(len(samples)) if there is None or changed is None else changed:
            found.pop(number, None)
            if made := tuple(make(samples[number])):
                found[number] = made
        self._each[thing] = found
        return cast("Mapping[int, Sequence[Made]]", found)
