"""What a hunt comes to: who did it, what nobody explains, and what to read next."""

from planner.model.hunt_report import HuntReport, HuntVerdict, QuestionLine, SuspectLine
from planner.model.wording import counted
from planner.testing.hunt.apart import apart, at_other_ends
from planner.testing.hunt.asking import Asking
from planner.testing.hunt.explaining import explain
from planner.testing.hunt.hunt import Hunt, Suspect
from planner.testing.hunt.outcomes import outcomes
from planner.testing.hunt.pairing import MOST_BESIDE, MOST_PAIRS, PAIRED
from planner.testing.hunt.question import Question
from planner.testing.hunt.words import Words, one_of

SURE = 0.95  # from here on one suspect is told to be it
ALIKE = 0.01  # of the first one's chance: others that are left when no reading tells more
MOST_SHOWN = 6
SUSPECTED = 0.001  # with less chance it is not counted among the suspects that are left


class Report:
    """One hunt as it stands; the question is worked out once."""

    def __init__(self, hunt: Hunt, skipped: frozenset[tuple[str, str, str]] = frozenset()) -> None:
        self.hunt, self.vehicle = hunt, hunt.vehicle
        self.words = Words(hunt.vehicle)
        self.suspects = hunt.suspects if hunt.observations else ()
        self.question: Question | None = None
        if self.suspects and not self.is_sure and not self._is_lost:
            self.question = Asking(hunt, skipped).next()

    @property
    def is_sure(self) -> bool:
        """Whether one mistake explains everything, and next to nothing else does."""
        first = self.suspects[0]
        return first.chance >= SURE and not first.unexplained and first.mistakes != ()

    @property
    def _is_lost(self) -> bool:
        """Whether the one thing that was said goes with nothing: it is said again before anything is read."""
        return len(self.hunt.observations) == 1 and bool(self.suspects[0].unexplained)

    @property
    def alike(self) -> tuple[Suspect, ...]:
        """The suspects that no reading tells apart, once none is left to take."""
        if not self.suspects or self.question is not None:
            return ()
        first = self.suspects[0].chance
        return tuple(s for s in self.suspects if s.chance >= ALIKE * first)

    @property
    def verdict(self) -> HuntVerdict:
        """How far the hunt has come."""
        if not self.suspects:
            return "nothing seen"
        if self.is_sure:
            return "found"
        if self.question is not None:
            return "open"
        first = self.suspects[0]
        if first.unexplained or first.mistakes == ():
            return "none"
        return "found" if len(self.alike) == 1 else "alike"

    @property
    def answer(self) -> str:
        """What it comes to, in a sentence or two."""
        verdict = self.verdict
        if verdict == "nothing seen":
            return "Nothing was seen yet."
        first = self.suspects[0]
        said = self.vehicle.words(first.world)
        if verdict == "found":
            other = at_other_ends(self.vehicle, first)
            return f"FOUND: {said}. It explains everything that was seen.{other and f' {other}'}"
        if verdict == "alike":
            all_of_them = one_of(self.vehicle, [s.mistakes for s in self.alike])
            no = "with the battery off" if self.hunt.is_before_power else "here"
            how = apart(self.vehicle, self.alike)
            return f"ONE OF {len(self.alike)}, and no reading {no} tells them apart: {all_of_them}. {how}"
        if verdict == "none":
            missed = ", ".join(str(n + 1) for n in first.unexplained)
            best = (
                f" Nearest is this: {said}; it does not go with what was seen as {missed}." if missed else ""
            )
            again = " Say how the controls were, or what else you see." if self._is_lost else ""
            return f"NONE of what was considered explains everything.{best}{again}"
        count = sum(s.chance >= SUSPECTED for s in self.suspects)
        likeliest = f" Likeliest ({first.chance:.0%}): {said}." if first.chance >= 0.2 else ""
        return f"NOT FOUND YET: {counted(count, 'suspect')} left.{likeliest}"

    def record(self) -> HuntReport:
        """Everything in words."""
        hunt = self.hunt
        shown = [s for s in self.suspects if s.chance >= 0.005][:MOST_SHOWN]
        contradicted: tuple[str, ...] = ()
        if self.suspects and self.suspects[0].unexplained:
            contradicted = tuple(_contradiction(sorted(each)) for each in hunt.contradictions())
            alone = [str(n + 1) for each in hunt.to_withdraw() if len(each) == 1 for n in each]
            if contradicted and alone:
                contradicted += (f"without {' or without '.join(alone)} something explains all the rest",)
        is_told = self.verdict in ("found", "alike") or bool(shown and shown[0].chance > 0.5)
        return HuntReport(
            title=self.vehicle.wired.title,
            verdict=self.verdict,
            answer=self.answer,
            seen=tuple(self.words.seen(o) for o in hunt.observations),
            suspects=tuple(
                SuspectLine(
                    self.vehicle.words(s.world), round(s.chance, 4), tuple(n + 1 for n in s.unexplained)
                )
                for s in shown
            ),
            chain=tuple(explain(hunt, self.suspects[0].world)) if is_told else (),
            contradictions=contradicted,
            question=self._asked(),
            considered=self._considered(),
        )

    def _asked(self) -> QuestionLine | None:
        asked = self.question
        if asked is None:
            return None
        return QuestionLine(
            self.words.question(asked.kind, asked.at, asked.to, has_fuses_out=asked.has_fuses_out),
            "" if asked.kind in ("ohms", "sits") else self.words.setting(asked.setting),
            asked.kind,
            round(asked.bits, 3),
            round(asked.minutes, 2),
            outcomes(asked, self.hunt),
        )

    def _considered(self) -> str:
        kinds = list(dict.fromkeys(m.kind for m in self.vehicle.mistakes))
        singles = f"{counted(len(self.vehicle.mistakes), 'single mistake')} ({', '.join(kinds)})"
        if not self.hunt.has_pairs:
            return f"{singles}; no two at once, for one mistake may be all of it"
        pairs = len(self.vehicle.worlds) - self.vehicle.singles
        return (
            f"{singles}; and {counted(pairs, 'pair')} of them: of the {PAIRED} likeliest for each thing that "
            f"is not as it should be the {MOST_PAIRS} pairs that explain most, and beside the likeliest "
            f"mistakes the {MOST_BESIDE} that may show in what each leaves unexplained; neither explains all"
        )


def _contradiction(numbers: list[int]) -> str:
    if len(numbers) == 1:
        return f"{numbers[0] + 1} goes with no mistake that was considered"
    *most, last = [str(number + 1) for number in numbers]
    both = f"{', '.join(most)} and {last} do not go together"
    return f"{both}: no mistake that was considered explains them at once"
