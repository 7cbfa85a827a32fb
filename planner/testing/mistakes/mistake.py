"""One mistake or fault: what it changes, what people call it, and how likely it is beforehand."""

from dataclasses import dataclass
from typing import Literal, NamedTuple

from planner.currents.grid import Gated

Kind = Literal[
    "end off",
    "wrong terminal",
    "wrong part",
    "ends traded",
    "mirror image",
    "wrong way round",
    "wire open",
    "poor joint",
    "short to earth",
    "chafed together",
    "earth missing",
    "earth poor",
    "fuse blown",
    "lamp failed",
    "wrong lamp",
    "open inside",
    "contact open",
    "contact closed",
    "coil open",
    "old part",
    "step forgotten",
    "step twice",
]
BranchName = tuple[str, ...]  # as ``planner.currents.grid`` names it


class EndAt(NamedTuple):
    """An end of a wire and the address at which it is instead."""

    wire: str
    end: int
    at: str


@dataclass(frozen=True, slots=True)
class Change:
    """What is otherwise than it should be.

    ``ends`` sit elsewhere and ``fits`` are other parts, which a loom can say; ``gone`` and ``added`` are
    branches that are not there or there besides, which only a grid can. ``words`` tell changes of one
    mistake apart ("about 3 ohm").
    """

    ends: tuple[EndAt, ...] = ()
    gone: tuple[BranchName, ...] = ()
    added: tuple[Gated, ...] = ()
    fits: tuple[tuple[str, str], ...] = ()  # place, id of the part
    words: str = ""


@dataclass(frozen=True, slots=True)
class Mistake:
    """One mistake; where its size is not known (a joint of unknown ohms), it has several changes.

    ``weight`` is its prior against that of the others (``priors.py``); ``mend`` are the addresses at which
    it is mended.
    """

    id: str
    kind: Kind
    words: str
    weight: float
    mend: tuple[str, ...]
    changes: tuple[Change, ...]
