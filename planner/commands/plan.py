"""Words and options of ``loomwright plan``."""

import argparse

from planner.commands.options import add_watch

HELP = "plan a swap: what to move, make and cover, and what works afterwards"
DESCRIPTION = """\
Plans a job and proves the result in every switch position. Without a job it
plans the one in the folder you are in; where there is none, the built-in
demonstration: several swaps at once on an invented van. The demonstration loses
something, says what, and so ends with exit status 1.
'loomwright check' lists the jobs of the catalogue by name."""
OUTCOMES = (
    "nothing is lost and nothing is open",
    "planned, but something is lost, unsafe, unsettled or must be measured",
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what only this verb takes."""
    parser.add_argument(
        "job", metavar="JOB", nargs="?", help="a job file, or the name of a job in the catalogue"
    )
    parser.add_argument(
        "--kit",
        metavar="KIT",
        help="leads that lie ready, a table (CSV or XLSX): which goes where, what is left",
    )
    parser.add_argument(
        "--reasons", action="store_true", help="show with each step the facts it stands on, in full"
    )
    parser.add_argument(
        "--charge",
        metavar="PERCENT",
        type=_percent,
        default=100.0,
        help="how far the battery is charged, 0 to 100; volts and amps are those of a full one if not given",
    )
    parser.add_argument(
        "--all", action="store_true", help="show all amps and volts with their limits, not only the tightest"
    )
    add_watch(parser)


def _percent(said: str) -> float:
    """A share in percent; argparse says what is wrong with it."""
    try:
        percent = float(said)
    except ValueError:
        percent = -1.0
    if not 0.0 <= percent <= 100.0:
        raise argparse.ArgumentTypeError(f"expected a number of percent from 0 to 100, got {said!r}")
    return percent
