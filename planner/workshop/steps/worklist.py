"""The work list of a settled plan: its steps in order and in words, and why each stands where it does."""

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from functools import cached_property

from planner.model.catalogue import Catalogue
from planner.model.delta import Add, Cut, Extend, Fit, Make, Operation, ReEnd, Remove, Step
from planner.model.elements import Source
from planner.model.facts import Facts
from planner.model.job import Job
from planner.model.loom import Loom
from planner.model.plan import Card, PlanStep
from planner.model.tank_senders import opened_tanks
from planner.workshop.ends.names import Names
from planner.workshop.order.constraints import constraints
from planner.workshop.order.order import Order, Spot, arrange
from planner.workshop.order.reasons import Constraint
from planner.workshop.steps.cards import Cards
from planner.workshop.steps.fields import fields_of
from planner.workshop.steps.words import words_of
from planner.workshop.tasks.posts import earthed_posts
from planner.workshop.tasks.task import Task
from planner.workshop.tasks.tasks import Work, gather

Minutes = Callable[[Sequence[Operation]], float]
# At one place, where nothing demands otherwise: what is taken off, what is put in, what is put on it.
_AT_A_PLACE = (
    "supply",
    "hold",
    "remove",
    "cover",
    "fit",
    "cover-terminal",
    "fuse",
    "cut",
    "extend",
    "re-end",
    "piggyback",
    "move",
    "join",
    "renew",
    "add",
    "insert",
)
CONNECT = "connect"  # the second go at a new wire; it has no operation of its own


class WorkList:
    """Orders and words the steps of one settled plan.

    ``facts`` say what each conductor was before; ``minutes`` what some operations take at the bench;
    ``amps`` the most that each leg of a wire carries after, by wire and leg, as far as anybody asks;
    ``over_wires`` the fuses that let more through than the wire behind them stands, and what carries
    their load.
    """

    def __init__(
        self,
        before: Loom,
        after: Loom,
        steps: Sequence[Step],
        catalogue: Catalogue,
        job: Job,
        facts: Facts,
        minutes: Minutes,
        amps: Mapping[tuple[str, int], float] = {},
        over_wires: Mapping[str, float | None] = {},
    ) -> None:
        self.work: Work = gather(before, after, steps, job)
        self.catalogue, self.minutes = catalogue, minutes
        tasks = self.work.tasks
        earthed = earthed_posts(after, catalogue.parts)
        demands = constraints(
            self.work, facts, self._batteries(), earthed, opened_tanks(before, after, catalogue.parts)
        )
        places = self.work.places
        spots = [Spot(t.at, places.zone(t.at), _rank(t)) for t in tasks]
        self.order: Order = arrange(spots, [(demand.first, demand.then) for demand in demands])
        self.ordered = [tasks[n] for n in self.order.tasks]
        number = {task: n for n, task in enumerate(self.order.tasks, 1)}
        self.demands = tuple(Constraint(number[d.first], number[d.then], d.why) for d in demands)
        self.names = Names(self.work, self.ordered, catalogue, facts, amps, over_wires)

    def _batteries(self) -> frozenset[str]:
        """The places at which a battery is taken out or put in."""
        return frozenset(
            o.at
            for o in (task.operation for task in self.work.tasks)
            if isinstance(o, Remove | Fit)
            and any(isinstance(e, Source) and not e.when for e in self.catalogue.parts[o.place.part].inside)
        )

    def steps(self) -> tuple[PlanStep, ...]:
        """The numbered work list."""
        return self._steps

    @cached_property
    def _steps(self) -> tuple[PlanStep, ...]:
        out: list[PlanStep] = []
        made: set[str] = set()
        ids: Counter[str] = Counter()
        for number, task in enumerate(self.ordered, 1):
            is_first_go = not isinstance(task.operation, Add) or task.wire not in made
            made |= {str(task.wire)} if isinstance(task.operation, Add) else set()
            fields = fields_of(self.names, task, is_first_go)
            words = words_of(self.names, task, fields)
            named = _id(task, is_first_go)
            ids[named] += 1  # two piggybacks may go on one terminal
            out.append(
                PlanStep(
                    n=number,
                    do=task.operation.do if is_first_go else CONNECT,
                    fields=fields,
                    text=words.text,
                    what=words.what,
                    because=tuple(dict.fromkeys(reason.rule for reason in task.reasons)),
                    facts=tuple(dict.fromkeys(fact for reason in task.reasons for fact in reason.facts)),
                    source="; ".join(dict.fromkeys(reason.source for reason in task.reasons)),
                    reversible=not isinstance(task.operation, Cut | Extend | ReEnd),
                    minutes=round(self.minutes(self._done_along(task)), 1) if is_first_go else 0.0,
                    place=task.at,
                    id=named if ids[named] == 1 else f"{named} {ids[named]}",
                    ends=self.names.staying(task.at) if isinstance(task.operation, Fit) else (),
                )
            )
        return tuple(out)

    def _done_along(self, task: Task) -> list[Operation]:
        """The operations that one step does."""
        operations = [task.operation]
        if task.made is not None and isinstance(task.made.operation, Make):
            operations.append(task.made.operation)
        if isinstance(task.operation, Fit):
            operations += self.work.stays.get(task.operation.at, ())
        return operations

    def cards(self, steps: Sequence[PlanStep]) -> tuple[Card, ...]:
        """One card for each part that is fitted or removed: in the job's order, then those of remedies."""
        return Cards(self.names, steps).all()


def _id(task: Task, is_first_go: bool) -> str:
    """What a step does and to what, by names that do not depend on its number."""
    operation = task.operation
    if isinstance(operation, Add):
        ends = operation.addresses if is_first_go else operation.addresses[slice(task.end or 0, None)][:1]
        return " ".join((operation.do if is_first_go else CONNECT, str(task.wire), *ends))
    subjects = [str(getattr(operation, key)) for key in ("wire", "end") if hasattr(operation, key)]
    return " ".join((operation.do, *(s for s in subjects if s != "None"), *operation.addresses))


def _rank(task: Task) -> int:
    do = task.operation.do
    return _AT_A_PLACE.index("cover-terminal" if do == "cover" and task.wire is None else do)
