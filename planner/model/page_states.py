"""The states of two looms, before and after, as a page can look them up: shared decision diagrams.

A *reference* is a whole number. From 0 on it is a node of ``nodes``, which asks a variable and has one
reference for each of its values; below 0 it is an answer, ``-1 - reference``. What an answer means is said
where the reference stands: a word, or the number of an ``Ending``.
"""

from dataclasses import dataclass

NONE = -1  # in place of a number of something that one of the looms has not

State = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Ending:
    """Where armatures, steps, cams and flashers end when the controls are held.

    ``ends`` are the ways it can end, one set of states for each order of moves that ends differently;
    ``passed`` are the states on the way that are in none of them.
    """

    ends: tuple[tuple[State, ...], ...]
    passed: tuple[State, ...]
    chatters: bool


@dataclass(frozen=True, slots=True)
class LiveGroup:
    """Hidden variables that move one another, and the controls that move them.

    ``ending`` refers, by controls and start, to the number of an ending; flashers start at rest, so
    ``resting`` says which of the hidden are flashers.
    """

    hidden: tuple[int, ...]
    controls: tuple[int, ...]
    resting: tuple[bool, ...]
    ending: int


@dataclass(frozen=True, slots=True)
class Look:
    """How one thing looks in one loom: a reference to a word, and the groups its hidden variables are of."""

    word: int
    groups: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class LiveDetent:
    """One position of a control: its value in each loom, NONE where the loom has no such position."""

    title: str
    before: int
    after: int


@dataclass(frozen=True, slots=True)
class LiveControl:
    """One control or condition of either loom; the first detent is its rest."""

    name: str
    title: str
    before: int  # its variable; NONE if the loom has no such control
    after: int
    detents: tuple[LiveDetent, ...]


@dataclass(frozen=True, slots=True)
class LiveRow:
    """One load, terminal, leg of a wire or alarm, in both looms; None where it is in one only.

    ``name`` is what a picture calls it: ``place/does``, an address, ``wire/leg``.
    """

    name: str
    title: str
    before: Look | None
    after: Look | None
    kind: str = ""


@dataclass(frozen=True, slots=True)
class PageStates:
    """Everything that can be looked up."""

    words: tuple[str, ...]
    nodes: tuple[tuple[int, ...], ...]  # variable, then a reference for each value
    variables: tuple[str, ...]
    endings: tuple[Ending, ...]
    groups: tuple[LiveGroup, ...]
    controls: tuple[LiveControl, ...]
    loads: tuple[LiveRow, ...]
    terminals: tuple[LiveRow, ...]
    wires: tuple[LiveRow, ...]  # whether each leg carries current
    potentials: tuple[LiveRow, ...]  # what each leg is joined to
    alarms: tuple[LiveRow, ...]  # shorts, ties and the like, while anything of it is passed
    not_shown: tuple[str, ...] = ()
