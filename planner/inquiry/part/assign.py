"""Every way to call the terminals and settings of a part by a person's names so that the readings fit."""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.inquiry.part.asked import Asked
from planner.inquiry.part.bench_view import BenchView
from planner.inquiry.part.search import Search
from planner.model.readings import Reading

MOST_WAYS = 60  # of one part; more are left when next to nothing was read


@dataclass(frozen=True, slots=True)
class Way:
    """One way: the mark of each terminal and the group of like settings of each position, in their order.

    ``times`` is how many ways there are that differ from it only by terminals that a meter finds alike, it
    itself among them; ``wrong`` are the readings that do not fit.
    """

    marks: tuple[str, ...]
    places: tuple[int, ...]
    times: int
    wrong: tuple[Reading, ...] = ()


@dataclass(frozen=True, slots=True)
class Ways:
    """The ways found; not all of them if the search was stopped."""

    found: tuple[Way, ...]
    is_complete: bool


def find_ways(view: BenchView, asked: Asked, most_wrong: int = 0, most_ways: int = MOST_WAYS) -> Ways:
    """Find every way, or so many, in which at most so many readings do not fit.

    Each terminal of the person is another one of the part, and each of the part's is used; its case, or what
    else its mounting connects, may have been left out. Each position is another setting, unless something in
    the part moves by itself and comes round.
    """
    if not _has_the_size(view, asked):
        return Ways((), True)
    search = Search(view, asked, most_wrong)
    ways: list[Way] = []
    for way in _ways(search, view, asked):
        if len(ways) == most_ways:
            return Ways(tuple(ways), False)
        ways.append(way)
    return Ways(tuple(ways), not search.is_stopped)


def _has_the_size(view: BenchView, asked: Asked) -> bool:
    """Whether the part has so many terminals and settings as the person names."""
    bench = asked.bench
    wired = sum(terminal.by == "wire" for terminal in view.part.terminals.values())
    powered = len(bench.powered)
    named = ((powered, True), (len(bench.positions) - powered, False))
    return wired <= len(bench.terminals) <= len(view.marks) and all(
        count <= sum(view.most_positions(n) for n, a in enumerate(view.alike) if a.is_powered is is_powered)
        for count, is_powered in named
    )


def _ways(search: Search, view: BenchView, asked: Asked) -> Iterator[Way]:
    for marks, places, times in search.run():
        wrong = tuple(
            q.reading
            for q in asked.questions
            if not q.found.agrees(view.alike[places[q.position]].ohms[marks[q.red]][marks[q.black]])
        )
        yield Way(tuple(view.marks[number] for number in marks), places, times, wrong)
