"""Times ``loomwright plan`` with 10,000 parts at hand beside 300, and ``check`` of the shipped catalogues.

The parts are those of the shipped catalogue again and again under other names, in files of 33, in a folder
that is given with ``--catalog``. The processes take turns. ``fuse-box-mirrored`` asks for nothing but its own
parts; ``lamp-on-a-poor-earth`` has a rule look through all make relays, which grow with the catalogue as
well. Run it with ``uv run python -m benchmarks.large_catalogue [ROUNDS]``.
"""

import os
import re
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

import catalogs
from benchmarks.arguments import rounds_of
from benchmarks.whole_process import PROGRAM, run, verdict

ROUNDS = 15
FEW, MANY = 300, 10_000  # the shipped catalogue alone has more than 200
A_FILE = 33
JOB, SEARCHING_JOB = "fuse-box-mirrored", "lamp-on-a-poor-earth"
RATIO_TARGET, CHECK_TARGET = 1.3, 2.0
_ENTRY = re.compile(r"^(?=- part:)", re.MULTILINE)
_ID = re.compile(r"^- part: (\S+)")


def main() -> None:
    """Measure and print medians and ratios."""
    rounds = rounds_of("large_catalogue", __doc__, ROUNDS)
    with TemporaryDirectory() as name:
        few, many = Path(name, "few"), Path(name, "many")
        for folder, count in ((few, FEW), (many, MANY)):
            write_parts(folder / "parts", count - len(shipped_entries()))
        commands = {
            (job, count): [PROGRAM, "plan", job, "--catalog", str(folder)]
            for job in (JOB, SEARCHING_JOB)
            for count, folder in ((FEW, few), (MANY, many))
        } | {("check", 0): [PROGRAM, "check"]}
        environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
        environment["PYTHONPYCACHEPREFIX"] = str(Path(name, "compiled"))
        for command in commands.values():
            run(command, environment)
        times: dict[tuple[str, int], list[tuple[float, float]]] = {key: [] for key in commands}
        for _ in range(rounds):
            for key, command in commands.items():
                times[key].append(run(command, environment))
    seconds = {key: median(wall for wall, _ in runs) for key, runs in times.items()}
    cpu = {key: median(used for _, used in runs) for key, runs in times.items()}
    print(f"median of {rounds} runs in turn, milliseconds   wall   cpu")
    for job, count in commands:
        what = f"plan {job}, {count} parts" if count else "check"
        print(f"{what:<42}{seconds[job, count] * 1e3:8.0f}{cpu[job, count] * 1e3:6.0f}")
    for job in (JOB, SEARCHING_JOB):
        by_wall, by_cpu = (t[job, MANY] / t[job, FEW] for t in (seconds, cpu))
        told = verdict(by_wall, RATIO_TARGET)
        print(f"{job}, {MANY} / {FEW}: {by_wall:.2f} by wall, {by_cpu:.2f} by cpu{told}")
    print(f"check: {seconds['check', 0]:.2f} s{verdict(seconds['check', 0], CHECK_TARGET)}")


def shipped_entries() -> list[str]:
    """Each part of the shipped catalogue as text."""
    files = sorted((catalogs.directory() / "parts").glob("*.yaml"))
    return [entry for file in files for entry in _ENTRY.split(file.read_text(encoding="utf-8"))[1:]]


def write_parts(folder: Path, count: int) -> None:
    """Write so many parts, each with an id of its own."""
    folder.mkdir(parents=True)
    entries = shipped_entries()
    parts = [_ID.sub(rf"- part: \1.{n}", entries[n % len(entries)]) for n in range(count)]
    for first in range(0, count, A_FILE):
        text = "".join(parts[first : first + A_FILE])
        (folder / f"{first:05}.yaml").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
