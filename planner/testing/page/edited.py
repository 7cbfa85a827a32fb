"""What mistakes make of many readings at once: few links taken out of, and put into, a known network."""

from collections.abc import Iterator, Sequence

import numpy as np

from planner.currents.curves import Array
from planner.model.meter_limits import OPEN_FROM_OHMS
from planner.testing.page.around import Around

Link = tuple[str, str, float]  # two points, and the siemens that come (or, negative, go) between them


def volts_with(net: Around, pairs: Sequence[tuple[str, str]], edits: Sequence[Sequence[Link]]) -> Array:
    """For each edit a row: the volts across each pair with its links."""
    a, b = _numbers(net, pairs)
    plain = net.volts[a] - net.volts[b]
    found = np.tile(plain, (len(edits), 1))
    for rows, here, there, siemens in _bunches(net, edits):
        driven = siemens * (net.leaking[here] - net.leaking[there])
        through = _through(net, here, there, siemens, driven[:, :, None])[:, :, 0]
        found[rows] -= np.einsum("nkp,nk->np", _between(net, here, there, a, b), through)
    return found


def ohms_with(net: Around, pairs: Sequence[tuple[str, str]], edits: Sequence[Sequence[Link]]) -> Array:
    """For each edit a row: the ohms between each pair with its links; infinite where it is open."""
    a, b = _numbers(net, pairs)
    z = net.ohms
    found = np.tile(z[a, a] + z[b, b] - 2.0 * z[a, b], (len(edits), 1))
    for rows, here, there, siemens in _bunches(net, edits):
        over = _between(net, here, there, a, b)
        through = _through(net, here, there, siemens, siemens[:, :, None] * over)
        found[rows] -= np.einsum("nkp,nkp->np", over, through)
    return np.where((found < -1e-3) | (found > OPEN_FROM_OHMS), np.inf, np.maximum(found, 0.0))


def _through(net: Around, here: Array, there: Array, siemens: Array, driven: Array) -> Array:
    """The currents through the links of each edit, each link acting on the others."""
    stiff = np.eye(here.shape[1]) + siemens[:, :, None] * _between(net, here, there, here, there)
    return np.asarray(np.linalg.solve(stiff, driven))


def _between(net: Around, a: Array, b: Array, c: Array, d: Array) -> Array:
    """For each edit: volts across each of its links from an ampere through each of some pairs."""
    z = net.ohms
    if c.ndim == 1:
        c, d = c[None, :], d[None, :]
    a, b, c, d = a[:, :, None], b[:, :, None], c[:, None, :], d[:, None, :]
    return np.asarray(z[a, c] - z[a, d] - z[b, c] + z[b, d])


def _numbers(net: Around, pairs: Sequence[tuple[str, str]]) -> tuple[Array, Array]:
    return (
        np.array([net.number[a] for a, _ in pairs], dtype=int),
        np.array([net.number[b] for _, b in pairs], dtype=int),
    )


def _bunches(net: Around, edits: Sequence[Sequence[Link]]) -> Iterator[tuple[list[int], Array, Array, Array]]:
    """Yield edits with as many links each: their rows, the points of their links, and the siemens."""
    by_size: dict[int, list[int]] = {}
    for row, links in enumerate(edits):
        by_size.setdefault(len(links), []).append(row)
    for size, rows in sorted(by_size.items()):
        if size:
            number = net.number
            yield (
                rows,
                np.array([[number[a] for a, _, _ in edits[row]] for row in rows], dtype=int),
                np.array([[number[b] for _, b, _ in edits[row]] for row in rows], dtype=int),
                np.array([[siemens for _, _, siemens in edits[row]] for row in rows]),
            )
