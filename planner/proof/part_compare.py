"""Does one part behave as another did? Two catalogue parts, without any vehicle around them.

Their terminals are paired, then every position is compared by what it means: which terminals are joined,
which loads sit between which, with ratings, fittings, mounting and the layout of the face beside it.
"""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Any

from planner.model.part import Part, Role
from planner.proof.part_behaviours import BehaviourRow, compare_behaviours
from planner.proof.part_bench import Bench
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


def compare_parts(original: Part, other: Part, roles: Mapping[str, Role]) -> PartComparison:
    """Compare a part with the original it is to replace.

    Raises TooLargeError if the two have too many positions to be compared one by one.
    """
    bench = Bench(original, other, roles)
    pairing = pair_terminals(bench)
    rows, matched = compare_behaviours(bench, bench.naming(pairing))
    partners = {pair.original: pair.other for pair in pairing.pairs}
    ratings = tuple(dict.fromkeys(compare_ratings(original, other, matched, partners)))
    lines = tuple(terminal_lines(bench, pairing))
    verdict, reasons = judge(Evidence(bench, pairing, lines, rows, ratings))
    return PartComparison(original, other, verdict, reasons, lines, rows, ratings)
