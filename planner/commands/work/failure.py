"""What is said when a command fails: the fault of the input in short, our own with its traceback."""

import sys
import traceback
from collections.abc import Iterable, Iterator
from textwrap import wrap

from planner.problems import InputError, PlannerError

WIDTH = 80


def say(error: Exception) -> bool:
    """Say on standard error what went wrong; true if the fault is ours."""
    if isinstance(error, InputError):
        say_lines(str(error).splitlines())
        return False
    if isinstance(error, PlannerError):
        say_lines(f"loomwright: {error}".splitlines())
        return False
    say_lines(["loomwright: this is a fault of the program, not of your input; please report it"])
    traceback.print_exception(error)
    return True


def say_lines(lines: Iterable[str]) -> None:
    """Say lines on standard error, long ones over several, further in than they begin.

    Each fault still begins with its place, where a program looks for it.
    """
    for line in lines:
        print("\n".join(_wrapped(line)), file=sys.stderr)


def _wrapped(line: str) -> Iterator[str]:
    indent = " " * (len(line) - len(line.lstrip()))
    yield from wrap(
        line.strip(),
        WIDTH,
        initial_indent=indent,
        subsequent_indent=f"{indent}    ",
        break_long_words=False,
        break_on_hyphens=False,
    ) or [line]
