"""Words and options of ``loomwright trace``."""

import argparse

HELP = "find what is wrong after the work, from what is seen and what the meter reads"
DESCRIPTION = """\
Finds the mistake in a vehicle: in a job's once the work is done, or in a loom
as it is drawn. Say what you see ("left side lamp off with lighting switch
side"), and it asks for one reading after another, each time the one that tells
most for the least effort, until one mistake explains everything. What you
said is kept after each answer. With --seen it takes everything from a file and
reports at once, with the reading to take next."""
OUTCOMES = (
    "found, or narrowed down to what no reading tells apart",
    "not found yet, or nothing explains what was said",
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what only this verb takes."""
    parser.add_argument(
        "name",
        metavar="JOB|LOOM",
        nargs="?",
        help="a shipped job or loom, or the file of one; if not said, the job in the folder you are in",
    )
    parser.add_argument(
        "--seen", metavar="FILE", help="observations in a file, a line for each; with --log too it asks on"
    )
    parser.add_argument(
        "--log",
        metavar="FILE",
        help="where what is said is kept (JOB-hunt.yaml, by the id of the job); one that is there goes on",
    )
