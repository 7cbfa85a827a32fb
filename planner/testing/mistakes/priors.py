"""How likely each mistake is before anything was seen, against the others.

Relative weights of one possibility among all of a vehicle: what was touched is likelier than what was left
alone, and of what was left alone that wears (joints, earths, lamps, fuses) is likelier than what does not.
Common practice, no source; nobody has counted them, and only their order of size matters. Where a mistake
can be made in many ways (an end on one of ten wrong terminals), they share its weight. A terminal of another
part nearby is taken for one's own less often than one beside it.
"""

from collections.abc import Mapping
from types import MappingProxyType

from planner.testing.mistakes.mistake import Kind

# kind: weight where the work left it alone, weight where the work touched it
WEIGHTS: Mapping[Kind, tuple[float, float]] = MappingProxyType(
    {
        "end off": (3.0, 20.0),
        "wrong terminal": (0.5, 12.0),
        "wrong part": (0.2, 4.0),
        "ends traded": (0.5, 12.0),
        "mirror image": (0.1, 10.0),
        "wrong way round": (0.1, 8.0),
        "wire open": (2.0, 2.0),
        "poor joint": (6.0, 10.0),
        "short to earth": (1.0, 2.0),
        "chafed together": (0.1, 0.3),
        "earth missing": (4.0, 12.0),
        "earth poor": (8.0, 12.0),
        "fuse blown": (3.0, 3.0),
        "lamp failed": (12.0, 12.0),
        "wrong lamp": (2.0, 4.0),
        "open inside": (3.0, 3.0),
        "contact open": (2.0, 2.0),
        "contact closed": (1.0, 1.0),
        "coil open": (2.0, 2.0),
        "old part": (0.0, 5.0),
        "step forgotten": (0.0, 15.0),
        "step twice": (0.0, 2.0),
    }
)


def weight(kind: Kind, *, touched: bool, ways: int = 1) -> float:
    """The weight of one mistake of a kind, or of one of several ways to make it."""
    return WEIGHTS[kind][touched] / ways
