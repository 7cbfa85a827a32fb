"""Words and options of ``loomwright compare``."""

import argparse

HELP = "say whether one part behaves as another does, and what differs"
DESCRIPTION = """\
Compares a part with the original it is to replace: which terminal takes the
place of which, what each does in every position, ratings, ends and mounting.
The verdict is drop-in, fits with rewiring, fits with losses or does not fit.
Only a drop-in ends with exit status 0, anything else with 1. With --in and --at
the swap is planned in that loom as well; terminals are then paired as the plan
puts their ends, and the plan decides the status."""
OUTCOMES = (
    "a drop-in; with --in: planned, with nothing lost or open",
    "not a drop-in; with --in: something is lost or open",
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what only this verb takes."""
    what = "the id of a part, or a file that holds one part"
    parser.add_argument("original", metavar="ORIGINAL", help=f"what is to be replaced: {what}")
    parser.add_argument("other", metavar="OTHER", help=f"what is to take its place: {what}")
    parser.add_argument(
        "--in",
        dest="loom",
        metavar="LOOM",
        help="plan the swap in this loom: a file, or the id of a loom in the catalogue",
    )
    parser.add_argument("--at", metavar="PLACE", help="where in that loom the original is fitted")
