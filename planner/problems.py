"""Places in files, what may be wrong there, and the few exceptions the planner raises."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class FilePlace:
    """A place in a file; lines and columns count from 1, 0 means the whole file."""

    file: str
    line: int = 0
    column: int = 0

    def __str__(self) -> str:
        if not self.line:
            return self.file
        return f"{self.file}:{self.line}:{self.column}"


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong in what was read."""

    place: FilePlace
    message: str
    related: tuple[tuple[FilePlace, str], ...] = ()
    hint: str | None = None

    def lines(self) -> list[str]:
        """The problem as printed: the fault, then ``because`` lines, then one ``try`` line."""
        out = [f"{self.place}: {self.message}"]
        out += [f"    because {place}: {text}" for place, text in self.related]
        if self.hint:
            out.append(f"    try {self.hint}")
        return out


class PlannerError(Exception):
    """The base of everything the planner raises on purpose."""


class InputError(PlannerError):
    """What was read cannot be used; ``problems`` says why, sorted by place."""

    def __init__(self, problems: Sequence[Problem]) -> None:
        self.problems = tuple(sorted(problems, key=lambda p: (p.place, p.message)))
        super().__init__(str(self))

    def __str__(self) -> str:
        return "\n".join(line for problem in self.problems for line in problem.lines())


class UsageError(PlannerError):
    """The command was called with words it cannot use."""


class TooLargeError(PlannerError):
    """A part of the circuit has more positions than can be proven; ``variables`` names what makes it so."""

    def __init__(self, variables: Sequence[str], size: int) -> None:
        self.variables = tuple(variables)
        self.size = size
        super().__init__(
            f"one block of the circuit depends on {len(self.variables)} controls and states at once "
            f"({size:,} positions): {', '.join(self.variables)}"
        )
