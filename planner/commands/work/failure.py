"""What is said when a command fails: the fault of the input in short, our own with its traceback."""

import sys
import traceback

from planner.problems import InputError, PlannerError


def say(error: Exception) -> bool:
    """Say on standard error what went wrong; true if the fault is ours."""
    if isinstance(error, InputError):
        print(error, file=sys.stderr)
        return False
    if isinstance(error, PlannerError):
        print(f"loomwright: {error}", file=sys.stderr)
        return False
    print("loomwright: this is a fault of the program, not of your input; please report it", file=sys.stderr)
    traceback.print_exception(error)
    return True
