"""Does one part behave as another did? Two catalogue parts, without any vehicle around them.

Their terminals are paired, then every position is compared by what it means: which terminals are joined,
which loads sit between which, with ratings, fittings, mounting and the layout of the face beside it.
"""

from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace
from types import MappingProxyType
from typing import Any

from planner.model.part import Part, Role
from planner.proof.part_behaviours import BehaviourRow, compare_behaviours
from planner.proof.part_bench import Bench, Pairing
from planner.proof.part_pairing import pair_terminals
from planner.proof.part_ratings import Rating, compare_ratings
from planner.proof.part_terminals import TerminalLine, terminal_lines
from planner.proof.part_verdict import ComparisonVerdict, Evidence, judge


@dataclass(frozen=True)
class PartComparison:
    """How a part compares with the original; reasons are sentences, the weightiest first."""

    original: Part
    other: Part
    verdict: ComparisonVerdict
    reasons: tuple[str, ...]
    terminals: tuple[TerminalLine, ...]
    behaviours: tuple[BehaviourRow, ...]
    ratings: tuple[Rating, ...]

    def as_json(self) -> dict[str, Any]:
        """The document that ``loomwright compare --json`` prints."""
        return {
            "original": self.original.part,
            "other": self.other.part,
            "verdict": self.verdict,
            "reasons": list(self.reasons),
            "terminals": [asdict(line) for line in self.terminals],
            "behaviours": [asdict(row) for row in self.behaviours],
            "ratings": [asdict(rating) for rating in self.ratings],
        }


def _paired(bench: Bench, settled: Mapping[str, str | None]) -> Pairing:
    """The pairs that the parts give by themselves, unless a plan has put ends elsewhere."""
    alone = pair_terminals(bench)
    known = {pair.original: pair for pair in alone.pairs}
    if all((known[m].other if m in known else None) == other for m, other in settled.items()):
        return alone
    pairing = pair_terminals(bench, settled)
    pairs = tuple(
        known[p.original] if p.original in known and known[p.original].other == p.other else p
        for p in pairing.pairs
    )
    return replace(pairing, pairs=pairs)


def compare_parts(
    original: Part,
    other: Part,
    roles: Mapping[str, Role],
    settled: Mapping[str, str | None] = MappingProxyType({}),
) -> PartComparison:
    """Compare a part with the original it is to replace, some terminals as a plan has paired them.

    ``settled`` gives for such terminals that of the other part, or None where the plan left them apart.

    Raises TooLargeError if the two have too many positions to be compared one by one.
    """
    bench = Bench(original, other, roles)
    pairing = _paired(bench, settled)
    rows, matched = compare_behaviours(bench, bench.naming(pairing))
    partners = {pair.original: pair.other for pair in pairing.pairs}
    ratings = tuple(dict.fromkeys(compare_ratings(original, other, matched, partners)))
    lines = tuple(terminal_lines(bench, pairing))
    verdict, reasons = judge(Evidence(bench, pairing, lines, rows, ratings))
    return PartComparison(original, other, verdict, reasons, lines, rows, ratings)
