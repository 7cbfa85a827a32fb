"""Times ``loomwright sheet`` of the whole van as whole processes: printed, in each form, and in all of them.

The processes take turns. What a form costs is its time without that of ``--form csv``, the cheapest, which is
the plan and little else. Run it with ``uv run python -m benchmarks.sheet_forms [ROUNDS]``.
"""

import os
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

from benchmarks.arguments import rounds_of
from benchmarks.whole_process import PROGRAM, run, verdict

ROUNDS = 5
JOB = "whole-van"
FORMS = ("csv", "md", "json", "xlsx", "pdf", "html")
ALL, PRINTED = "all forms", "printed"
TARGET = 3.0  # seconds of a whole process with all forms


def main() -> None:
    """Measure and print medians."""
    rounds = rounds_of("sheet_forms", __doc__, ROUNDS)
    with TemporaryDirectory() as name:
        sheet = [PROGRAM, "sheet", JOB]
        write = [*sheet, "--write", name, "--force"]
        commands = {form: [*write, "--form", form] for form in FORMS} | {ALL: write, PRINTED: sheet}
        environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
        environment["PYTHONPYCACHEPREFIX"] = str(Path(name, "compiled"))
        for command in commands.values():
            run(command, environment)
        times: dict[str, list[tuple[float, float]]] = {key: [] for key in commands}
        for _ in range(rounds):
            for key, command in commands.items():
                times[key].append(run(command, environment))
    wall = {key: median(wall for wall, _ in runs) for key, runs in times.items()}
    cpu = {key: median(used for _, used in runs) for key, runs in times.items()}
    print(f"median of {rounds} runs in turn, milliseconds   wall   cpu   more than csv, cpu")
    for key in commands:
        print(f"{key:<40}{wall[key] * 1e3:10.0f}{cpu[key] * 1e3:6.0f}{(cpu[key] - cpu['csv']) * 1e3:21.0f}")
    print(f"{ALL}: {wall[ALL]:.2f} s{verdict(wall[ALL], TARGET)}")


if __name__ == "__main__":
    main()
