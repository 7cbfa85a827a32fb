"""What stands beside a plan: other ways, by what is done differently and what they lose."""

import re
from collections.abc import Callable, Sequence

from planner.currents.report import (
    strain_words,
)
from planner.engine.trades import TRADES, Alternative
from planner.model.catalogue import Catalogue
from planner.model.facts import Facts
from planner.model.job import Job
from planner.model.loom import Loom
from planner.model.plan import (
    AlternativeLine,
    PlanStep,
)
from planner.proof.report import fault_words
from planner.telling.steps import work_list
from planner.workshop.steps.worklist import CONNECT

_NUMBERED = re.compile(r"\bN\d+\b|\bsteps? \d+\b")  # wires and steps are numbered anew in every plan


def alternative_line(
    alternative: Alternative,
    loom: Loom,
    catalogue: Catalogue,
    job: Job,
    usual: frozenset[str],
    title: Callable[[str], str],
    facts: Facts,
) -> AlternativeLine:
    """An alternative beside a plan whose steps do what is ``usual``."""
    candidate = alternative.judged.candidate
    other = work_list(alternative.job or job, loom, catalogue, candidate, facts).steps()
    own = tuple(step for step in other if step.do != CONNECT and alike(step) not in usual)
    return AlternativeLine(
        title=_alternative_title(alternative, own),
        minutes=round(sum(step.minutes for step in other), 1),
        steps=tuple(step.what for step in own),
        loses=(
            *([alternative.gives_up] if alternative.gives_up else []),
            *(
                strain_words(f.strain, candidate.loom)
                if f.strain
                else fault_words(f, title(f.at.partition(":")[0]) if f.at else "")
                for f in alternative.judged.faults
                if f.is_loss
            ),
        ),
        because=alternative.why.rule,
        facts=alternative.why.facts,
    )


def _alternative_title(alternative: Alternative, own: Sequence[PlanStep]) -> str:
    """What is done in an alternative, not what it answers: its own first step that says so."""
    if alternative.job is not None or not own:
        return alternative.title
    telling = [
        step for step in own if step.do not in ("piggyback", "re-end", "extend", "cover", "remove", "fuse")
    ]
    telling.sort(key=lambda step: (alternative.why.rule not in step.because, step.do == "add"))
    first = (telling or own)[0].what.partition(";")[0]
    if alternative.title in TRADES:
        return f"{alternative.title}: {first}"
    return alternative.title if alternative.why.rule == "choice" else first


def alike(step: PlanStep) -> str:
    """What a step does, without numbers of new wires and steps: equal for equal steps of two plans."""
    return _NUMBERED.sub("", step.what)
