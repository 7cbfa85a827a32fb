"""Which part lies on the bench? From readings to explanations, ranked, and the reading to take next."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from planner.inquiry.part.asked import Asked
from planner.inquiry.part.assign import MOST_WAYS, find_ways
from planner.inquiry.part.bench_view import BenchView, bench_view
from planner.inquiry.part.contradictions import Contradiction, contradictions, suspects
from planner.inquiry.part.deciding import NextReading, best_reading
from planner.inquiry.part.explanation import Explanation, explanations
from planner.model.elements import Coil
from planner.model.part import Part
from planner.model.purpose import Kind, kind_of
from planner.model.readings import BenchReadings, Reading


@dataclass(frozen=True)
class Identification:
    """What the readings say: the explanations, the best first, and what is wrong with the readings.

    Where nothing explains them all, ``nearly`` are the parts that explain all but one. ``incomplete`` are the
    parts of which not every way was looked at; ``is_cut`` says that one of them explains the readings in more
    ways than are kept.
    """

    asked: Asked
    explanations: tuple[Explanation, ...]
    nearly: tuple[Explanation, ...]
    incomplete: tuple[str, ...]
    is_cut: bool
    contradictions: tuple[Contradiction, ...]
    suspects: tuple[Reading, ...]
    next: NextReading | None

    @property
    def kinds(self) -> tuple[Kind, ...]:
        """The kinds of the parts that explain the readings, the best first."""
        return tuple(dict.fromkeys(kind_of(e.part) for e in self.explanations))

    @property
    def has_more_ways(self) -> bool:
        """Whether one part explains the readings with its terminals called in ways that read differently."""
        return len({e.part.part for e in self.explanations}) < len(self.explanations)

    @property
    def is_decided(self) -> bool:
        """Whether one thing is left: parts of one kind that read alike, read in every position."""
        return (
            len(self.kinds) == 1
            and not self.has_more_ways
            and self.next is None
            and not self.contradictions
            and not self.incomplete
            and not self.explanations[0].unseen
            and not self.explanations[0].contrary
            and not self.is_all_open
        )

    @property
    def is_all_open(self) -> bool:
        """Whether nothing was found joined to anything: that tells next to nothing."""
        return all(question.found.is_open for question in self.asked.questions)

    @property
    def speaks_for(self) -> Explanation | None:
        """Of several kinds the first, if more of the person's names are its own than are any other's."""
        first, *others = self.explanations or (None,)
        kinds = [e for e in others if e and first and kind_of(e.part) != kind_of(first.part)]
        return first if first and kinds and first.names_met > max(e.names_met for e in kinds) else None


def identify(bench: BenchReadings, parts: Iterable[Part], leads_ohms: float | None = None) -> Identification:
    """Find every part that explains the readings; where none does, those that explain all but one.

    Before a reading is doubted, the coil is: relays of one pattern are made with coils of many ohms.
    """
    asked = Asked(bench, leads_ohms)
    contrary = contradictions(asked)
    found: list[Explanation] = []
    incomplete: dict[str, None] = {}
    is_cut = False
    for views, most_wrong in _stages([part for part in parts if _can_be(part, bench)]):
        for view in views:
            ways = find_ways(view, asked, most_wrong)
            found += explanations(view, asked, ways.found)
            if not ways.is_complete:
                incomplete[view.part.part] = None
                is_cut |= len(ways.found) == MOST_WAYS
        if found:
            break
    found.sort(key=lambda explanation: explanation.rank)
    whole = tuple(explanation for explanation in found if not explanation.wrong)
    return Identification(
        asked,
        whole,
        tuple(explanation for explanation in found if explanation.wrong),
        tuple(incomplete),
        is_cut,
        contrary,
        suspects(asked, contrary),
        best_reading(asked, whole) if len(whole) > 1 else None,
    )


def _stages(parts: Sequence[Part]) -> Iterator[tuple[list[BenchView], int]]:
    """Yield what is looked at, one stage where the one before found nothing, with the readings to doubt."""
    views = [bench_view(part) for part in parts]
    yield views, 0
    yield [bench_view(p, any_coil=True) for p in parts if any(isinstance(e, Coil) for e in p.inside)], 0
    yield views, 1


def _can_be(part: Part, bench: BenchReadings) -> bool:
    """Whether a part has the number of terminals; its case need not have been read."""
    wired = sum(terminal.by == "wire" for terminal in part.terminals.values())
    return wired <= len(bench.terminals) <= len(part.terminals)
