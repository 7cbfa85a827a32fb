"""Words and options of ``loomwright survey``."""

import argparse

HELP = "say what to find out about the parts in hand, take the answers, and plan"
DESCRIPTION = """\
Names a swap by its plain words, British or American ("two-speed wipers"), and
prints what to find out before it is planned: each part sketched, a line for
each terminal, and how to measure it. With --ask the answers are typed one after
another, with --write and --read they are filled into a table; then the swap is
planned for your own vehicle at once. Without a swap it lists them all."""
OUTCOMES = (
    "shown; or planned, with nothing lost and nothing open",
    "planned, but something is lost, unsafe, unsettled or must be measured",
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what only this verb takes."""
    parser.add_argument(
        "swap", metavar="SWAP", nargs="*", default=[], help="words, the name of a shipped job, or a job file"
    )
    parser.add_argument(
        "--ask",
        action="store_true",
        help="ask on the terminal, one line at a time; answers are kept in a table after each one",
    )
    parser.add_argument(
        "--write",
        metavar="FILE",
        help="write the table to fill in, .csv or .xlsx; with --ask, the table that answers are kept in",
    )
    parser.add_argument(
        "--read", metavar="FILE", help="read a filled-in table and plan; with --ask, go on from it"
    )
    parser.add_argument(
        "--into",
        metavar="DIR",
        help="the new or empty folder for your loom and job; one named after the swap if not given",
    )
