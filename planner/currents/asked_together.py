"""The numbers of many questions to one part of the loom: by the scopes that they ask, a column for each.

Needs numpy.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence

import numpy as np

from planner.currents.curves import Array
from planner.currents.sums import IMPOSSIBLE, Scope, Sums
from planner.currents.weighed import Weighed

Columns = tuple[Sequence[int], Mapping[Scope, Array]]  # which questions, and the numbers of their scopes


def in_columns(questions: Sequence[Callable[[], Sums]], counted: frozenset[Scope]) -> Iterator[Columns]:
    """Yield together those that ask the same scopes, beside those that are ``counted`` in any case."""
    weighed = [(n, sums) for n, sums in enumerate(questions) if isinstance(sums, Weighed)]
    if weighed:
        yield from _of_weighed(weighed, counted)
    known = {n: sums() for n, sums in enumerate(questions) if not isinstance(sums, Weighed)}
    alike: dict[frozenset[Scope], list[int]] = {}
    for n, sums in known.items():
        alike.setdefault(frozenset(sums) - counted, []).append(n)
    for own in alike.values():
        columns: dict[Scope, Array] = {}
        for column, n in enumerate(own):
            for scope, amps in known[n].items():
                if scope not in columns:
                    columns[scope] = np.zeros((len(amps), len(own)))
                columns[scope][:, column] = amps
        yield own, columns


def _of_weighed(questions: Sequence[tuple[int, Weighed]], counted: frozenset[Scope]) -> Iterator[Columns]:
    """The same of questions to one part about the meetings of one loom."""
    first = questions[0][1]
    spans = first.met.spans(first.part)
    _work_out([each for _, each in questions if each.row is None])
    rows = np.array([each.row for _, each in questions])
    is_asked = np.array([
        np.full(len(rows), True) if scope in counted else rows[:, own].any(axis=1)
        for scope, own in spans.items()
    ]).T  # fmt: skip
    for row, (_, each) in enumerate(questions):
        if each.only is not None:
            scope, may_be = each.only
            is_asked[row, list(spans).index(scope)] = True
            rows[row, spans[scope]][~np.array(may_be)] = IMPOSSIBLE
    alike: dict[bytes, list[int]] = {}
    for row in range(len(questions)):
        alike.setdefault(is_asked[row].tobytes(), []).append(row)
    for own in alike.values():
        columns = rows[own].T
        chosen = zip(spans.items(), is_asked[own[0]].tolist(), strict=True)
        yield (
            [questions[row][0] for row in own],
            {scope: columns[span] for (scope, span), is_in in chosen if is_in},
        )


def _work_out(questions: Sequence[Weighed]) -> None:
    """Work out the numbers of questions to one part as rows."""
    if not questions:
        return
    met, part = questions[0].met, questions[0].part
    asked = sorted({number for each in questions for number, _ in each.meetings})
    place = {number: n for n, number in enumerate(asked)}
    brings = np.zeros((len(asked), met.sizes[part]))
    for number, row in place.items():
        for at, amps in met.brings[number][part]:
            brings[row, at] = amps
    weights = np.zeros((len(questions), len(asked)))
    for row, each in enumerate(questions):
        for number, weight in each.meetings:
            weights[row, place[number]] += weight
    used = np.flatnonzero(brings.any(axis=0))
    rows = np.zeros((len(questions), met.sizes[part]))
    # Not by the matrix library: its threads cost more than so small a product.
    rows[:, used] = np.einsum("qm,mn->qn", weights, brings[:, used])
    for row, each in enumerate(questions):
        for more, weight in each.besides:
            for at, amps in more:
                rows[row, at] += weight * amps
        each.row = rows[row]


def with_ground(ground: Sums, columns: Mapping[Scope, Array], count: int) -> Mapping[Scope, Array]:
    """Columns of numbers with what is the same in all of them."""
    found = {
        scope: np.broadcast_to(np.array(own).reshape(-1, 1), (len(own), count))
        for scope, own in ground.items()
    }
    return found | {scope: found[scope] + own if scope in found else own for scope, own in columns.items()}
