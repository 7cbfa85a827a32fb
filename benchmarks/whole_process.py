"""Times the whole process of ``loomwright plan`` and ``loomwright --help`` beside processes that only import.

The commands take turns, so that whatever else the machine does falls on all of them alike. Modules are
compiled beforehand into a folder of the benchmark's own, as an installer does it. Last it tells how the
plan's CPU time splits into stages. Run it with ``uv run python -m benchmarks.whole_process [ROUNDS]``.
"""

import json
import os
import resource
import subprocess
import sys
import time
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

from benchmarks.arguments import rounds_of

ROUNDS = 15
PLAN_TARGET, HELP_TARGET = 2.0, 1.5
PROGRAM = str(Path(sys.executable).with_name("loomwright"))
COMMANDS = {
    "loomwright plan": [PROGRAM, "plan"],
    "import BaseModel, yaml, rich": [
        sys.executable,
        "-c",
        "from pydantic import BaseModel; import yaml; "
        "from rich.console import Console; from rich.table import Table",
    ],
    "import pydantic, yaml, rich": [sys.executable, "-c", "import pydantic, yaml, rich"],
    "loomwright --help": [PROGRAM, "--help"],
    "import argparse": [sys.executable, "-c", "import argparse"],
}
STAGES = [sys.executable, "-m", "benchmarks.stages_of_a_plan"]
RATIOS = (
    ("loomwright plan", "import BaseModel, yaml, rich", PLAN_TARGET),
    ("loomwright plan", "import pydantic, yaml, rich", None),  # loads pydantic's models only when asked for
    ("loomwright --help", "import argparse", HELP_TARGET),
)


def main() -> None:
    """Measure and print medians and ratios."""
    rounds = rounds_of("whole_process", __doc__, ROUNDS)
    wall: dict[str, list[float]] = {name: [] for name in COMMANDS}
    cpu: dict[str, list[float]] = {name: [] for name in COMMANDS}
    splits = []
    with TemporaryDirectory() as compiled:
        environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
        environment["PYTHONPYCACHEPREFIX"] = compiled
        for command in COMMANDS.values():
            run(command, environment)
        for _ in range(rounds):
            for name, command in COMMANDS.items():
                seconds, cpu_seconds = run(command, environment)
                wall[name].append(seconds)
                cpu[name].append(cpu_seconds)
            said = subprocess.run(STAGES, env=environment, stdout=subprocess.PIPE, check=True).stdout
            splits.append(json.loads(said))
    print(f"median of {rounds} runs in turn, milliseconds   wall   cpu")
    for name in COMMANDS:
        print(f"{name:<42}{median(wall[name]) * 1e3:8.0f}{median(cpu[name]) * 1e3:6.0f}")
    for name, beside, target in RATIOS:
        by_wall, by_cpu = (median(t[name]) / median(t[beside]) for t in (wall, cpu))
        print(f"{name} / {beside}: {by_wall:.2f} by wall, {by_cpu:.2f} by cpu{verdict(by_wall, target)}")
    print("loomwright plan by stages, milliseconds of CPU time, median of each:")
    for stage in splits[0]:
        print(f"{stage:<42}{median(split[stage] for split in splits):8.0f}")


def run(command: list[str], environment: dict[str, str]) -> tuple[float, float]:
    """Wall and CPU seconds of one process; what it prints goes nowhere."""
    before, began = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    done = subprocess.run(command, env=environment, stdout=subprocess.DEVNULL, check=False)
    seconds, after = time.perf_counter() - began, resource.getrusage(resource.RUSAGE_CHILDREN)
    if done.returncode not in (0, 1):  # 1: the demonstration loses something
        sys.exit(f"{' '.join(command)} ended with {done.returncode}")
    return seconds, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def verdict(ratio: float, target: float | None) -> str:
    """Whether a ratio keeps to its target."""
    if target is None:
        return ""
    return f" (target {target}: {'met' if ratio <= target else 'MISSED'})"


if __name__ == "__main__":
    main()
