"""What a hunt comes to, in words: nothing is left to compute."""

from dataclasses import asdict, dataclass
from typing import Any, Literal

HuntVerdict = Literal["found", "alike", "open", "none", "nothing seen"]


@dataclass(frozen=True, slots=True)
class SuspectLine:
    """One suspect: what may be wrong, how likely, and the numbers of the observations it does not explain."""

    words: str
    chance: float
    unexplained: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class OutcomeLine:
    """What one outcome of the next reading would mean; ``is_sound`` where it is as it should be."""

    reading: str
    means: str
    chance: float
    is_sound: bool


@dataclass(frozen=True, slots=True)
class QuestionLine:
    """The next reading to take: in words, as a line begins that reports it, and what each outcome means."""

    words: str
    setting: str
    kind: str
    bits: float
    minutes: float
    outcomes: tuple[OutcomeLine, ...]


@dataclass(frozen=True, slots=True)
class HuntReport:
    """Everything there is to say of a hunt as it stands; observations are numbered from 1."""

    title: str
    verdict: HuntVerdict
    answer: str
    seen: tuple[str, ...]
    suspects: tuple[SuspectLine, ...]
    chain: tuple[str, ...]
    contradictions: tuple[str, ...]
    question: QuestionLine | None
    considered: str

    def as_json(self) -> dict[str, Any]:
        """As plain data."""
        return asdict(self)
