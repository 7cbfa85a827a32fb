"""Which piece is cut from which length of the stock, so that the least is bought and the least is left over.

First as much as possible is cut from the stock; then as little as possible is left of the lengths that are
cut into; then as few of them as possible are cut. Few pieces are assigned by trying every way that can still
be better (branch and bound); the bound is what the best set of lengths would leave if pieces could be cut
anywhere. Lengths are reckoned in whole centimetres.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

from planner.model.bench_sheet import Cut, CuttingPlan

MOST_TRIED = 200_000  # ways looked at before the best so far is taken and said not to be proven
MOST_SUBSETS = 16  # stock lengths of which every set is looked at for the bound
Piece = tuple[str, int]  # wire, centimetres
_Cost = tuple[int, int, int]  # centimetres to buy, left over, lengths cut into


def cutting_plan(
    colour: str,
    mm2: float,
    pieces: Sequence[tuple[str, float]],
    stock_metres: Sequence[float],
    most_tried: int = MOST_TRIED,
) -> CuttingPlan:
    """The best way to cut pieces (wire, metres) of one colour and size from some stock lengths."""
    wanted = sorted(((name, round(100 * metres)) for name, metres in pieces), key=lambda p: (-p[1], p[0]))
    lengths = sorted((round(100 * metres) for metres in stock_metres), reverse=True)
    search = _Search(wanted, lengths, most_tried)
    search.run(0, [0] * len(lengths), 0, [])
    best = search.best_way
    cuts = [
        Cut(
            length / 100,
            tuple((name, cm / 100) for (name, cm), at in zip(wanted, best, strict=True) if at == n),
        )
        for n, length in enumerate(lengths)
    ]
    bought = tuple((name, cm / 100) for (name, cm), at in zip(wanted, best, strict=True) if at is None)
    cut = sum(cm for (_, cm), at in zip(wanted, best, strict=True) if at is not None)
    return CuttingPlan(
        colour,
        mm2,
        tuple(cut for cut in cuts if cut.pieces),
        bought,
        left_at_least(lengths, cut) / 100,
        not search.is_cut_short,
    )


def left_at_least(lengths: Sequence[int], cut: int) -> int:
    """What no way to cut so many centimetres can avoid to leave of the lengths that it cuts into."""
    if not cut or len(lengths) > MOST_SUBSETS:
        return 0
    sums = {0}
    for length in lengths:
        sums |= {total + length for total in sums}
    return min((total - cut for total in sums if total >= cut), default=0)


@dataclass
class _Search:
    """Depth first, the longest piece first; a way that cannot be better than the best so far is left."""

    wanted: Sequence[Piece]
    lengths: Sequence[int]
    most_tried: int
    best: _Cost | None = None
    best_way: list[int | None] = field(default_factory=list)
    tried: int = 0
    is_cut_short: bool = False

    def run(self, index: int, used: list[int], bought: int, way: list[int | None]) -> None:
        """Assign the pieces from ``index`` on; ``used`` is what is cut of each length so far."""
        if self.tried >= self.most_tried and self.best is not None:
            self.is_cut_short = True
            return
        self.tried += 1
        if self.best is not None and bought > self.best[0]:
            return
        if index == len(self.wanted):
            opened = [n for n, cm in enumerate(used) if cm]
            cost = (bought, sum(self.lengths[n] - used[n] for n in opened), len(opened))
            if self.best is None or cost < self.best:
                self.best, self.best_way = cost, list(way)
            return
        _, cm = self.wanted[index]
        seen: set[tuple[int, int]] = set()  # lengths that are alike so far are alike for this piece too
        for n, length in enumerate(self.lengths):
            if used[n] + cm <= length and (length, used[n]) not in seen:
                seen.add((length, used[n]))
                used[n] += cm
                self.run(index + 1, used, bought, [*way, n])
                used[n] -= cm
        self.run(index + 1, used, bought + cm, [*way, None])
