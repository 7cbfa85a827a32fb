"""Does a command's work again whenever a file that it read is saved, until it is interrupted."""

import argparse
import gc
import sys
import time
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import NoReturn

from planner.commands.work.failure import say
from planner.problems import PlannerError, UsageError
from planner.reading.noting import Stamp, noted_files, stamp

POLL_SECONDS = 0.3  # what is saved is looked for so often, and must then rest for as long


def work_and_watch(work: Callable[[argparse.Namespace], int], args: argparse.Namespace) -> int:
    """Do the work once, or with ``--watch`` again and again.

    Raises UsageError if it is to be watched and printed as one JSON document.
    """
    if args.watch and args.json:
        raise UsageError("--watch prints again and again, and --json is one document: use one of them")
    if args.watch:
        watch(lambda: work(args))
    return work(args)


def watch(work: Callable[[], object], sleep: Callable[[float], None] | None = None) -> NoReturn:
    """Do some work each time that something it read has changed; faults of the input are said in between.

    Raises KeyboardInterrupt when the person has had enough, and whatever is a fault of ours.
    """
    rest = sleep or time.sleep
    gc.enable()  # this may run all day
    while True:
        with noted_files() as noted:
            try:
                work()
            except PlannerError as error:
                say(error)
        sys.stdout.flush()
        print(f"-- {len(noted)} files and folders are watched; Ctrl-C ends it", file=sys.stderr, flush=True)
        _wait_for_change(noted, rest)


def _wait_for_change(noted: Mapping[Path, Stamp], rest: Callable[[float], None]) -> None:
    """Wait until something looks different, and then until it is at rest: an editor may save in steps."""
    seen: Mapping[Path, Stamp] = noted
    while seen == noted:
        rest(POLL_SECONDS)
        seen = _stamps(noted)
    before: Mapping[Path, Stamp] = noted
    while seen != before:
        rest(POLL_SECONDS)
        before, seen = seen, _stamps(noted)


def _stamps(paths: Mapping[Path, Stamp]) -> dict[Path, Stamp]:
    return {path: stamp(path) for path in paths}
