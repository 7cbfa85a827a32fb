"""What every operation on a loom can do: apply and undo itself."""

from abc import ABC, abstractmethod
from dataclasses import dataclass
from typing import ClassVar

from planner.model.loom import Loom

EndRef = tuple[str, int]  # wire id, end number


@dataclass(frozen=True, slots=True)
class Operation(ABC):
    """The base of all operations; ``do`` is its word on the work list."""

    do: ClassVar[str] = ""

    @property
    @abstractmethod
    def addresses(self) -> tuple[str, ...]:
        """The places and terminals it works at, where its wire comes from first."""

    @property
    def subject(self) -> tuple[object, ...] | None:
        """What it has the last word on, if a later operation can take it back."""
        return None

    @abstractmethod
    def apply(self, loom: Loom) -> Loom:
        """The loom after this operation."""

    @abstractmethod
    def undo(self, loom: Loom) -> Loom:
        """The loom before this operation."""
