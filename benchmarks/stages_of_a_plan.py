"""Tells how the CPU time of one ``loomwright plan`` splits into stages, as one JSON document.

It plans the demonstration once, as the command does, in a process of its own: time counts from the start of
the interpreter. Each moment is charged to the stage that was entered last, so the amps that the choice asks
for are no part of the choice. Run it with ``uv run python -m benchmarks.stages_of_a_plan``;
``benchmarks.whole_process`` takes the median of several.
"""

import gc
import json
import os
import sys
import time
from collections import Counter
from collections.abc import Callable
from contextlib import redirect_stdout
from functools import reduce, wraps
from importlib import import_module
from pathlib import Path
from typing import Any

from benchmarks.arguments import rounds_of

IMPORTS, READING, CHOICE = (
    "the interpreter and imports",
    "reading files",
    "choice and proof with ideal joints",
)
AMPS, WORDS, REST = "amps, volts and their checks", "words and output", "the rest"
STAGES = (IMPORTS, READING, CHOICE, AMPS, WORDS, REST)
MODULES = ("planner.commands.work.plan", "rules", "numpy")  # what a plan of the demonstration loads
OF_STAGE = {
    READING: ("planner.commands.work.plan:open_catalogue", "planner.pipeline:read_job"),
    CHOICE: ("planner.pipeline:Prover", "planner.pipeline:settle"),
    AMPS: tuple(f"planner.currents.currents:Currents.{name}" for name in ("faults", "strains", "inspection")),
    WORDS: (
        "planner.pipeline:describe",
        "planner.commands.work.plan:plan_sheet",
        "planner.commands.work.plan:put_sheet",
    ),
}


class Clock:
    """Charges CPU time to the stage that was entered last."""

    def __init__(self) -> None:
        self.spent: Counter[str] = Counter()
        self._entered, self._since = [IMPORTS], 0.0

    def enter(self, stage: str) -> None:
        """From now on time is that stage's."""
        self._charge()
        self._entered.append(stage)

    def leave(self) -> None:
        """From now on time is that of the stage before."""
        self._charge()
        self._entered.pop()

    def _charge(self) -> None:
        now = time.process_time()
        self.spent[self._entered[-1]] += now - self._since
        self._since = now

    def within(self, stage: str, work: Callable[..., Any]) -> Callable[..., Any]:
        """The same work, its time charged to a stage."""

        @wraps(work)
        def timed(*args: Any, **options: Any) -> Any:
            self.enter(stage)
            try:
                return work(*args, **options)
            finally:
                self.leave()

        return timed


def main() -> None:
    """Plan the demonstration and print the milliseconds of each stage."""
    rounds_of("stages_of_a_plan", __doc__)
    gc.disable()  # as the command does
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    clock = Clock()
    commands = import_module("planner.commands")
    for module in MODULES:
        import_module(module)
    for stage, names in OF_STAGE.items():
        for name in names:
            put_on(clock, stage, name)
    clock.enter(REST)
    with Path(os.devnull).open("w", encoding="utf-8") as nowhere, redirect_stdout(nowhere):
        status = commands.main(["plan"], lambda _: clock.leave())
    if status not in (0, 1):  # 1: the demonstration loses something
        sys.exit(f"loomwright plan ended with {status}")
    print(json.dumps({stage: round(clock.spent[stage] * 1e3, 1) for stage in STAGES}))


def put_on(clock: Clock, stage: str, name: str) -> None:
    """Charge to a stage what a function or a method takes, named with its module before a colon."""
    module, _, path = name.partition(":")
    *outer, last = path.split(".")
    owner: Any = reduce(getattr, outer, import_module(module))
    setattr(owner, last, clock.within(stage, getattr(owner, last)))


if __name__ == "__main__":
    main()
