"""Words and options of ``loomwright compare``."""

import argparse

HELP = "say whether one part behaves as another does, and what differs"
DESCRIPTION = """\
Compares a part with the original it is to replace, without any vehicle: which
terminal takes the place of which, what each does in every position, ratings,
ends and mounting. The verdict is drop-in, fits with rewiring, fits with losses
or does not fit. Only a drop-in ends with exit status 0, anything else with 1."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what only this verb takes."""
    parser.add_argument("original", metavar="ORIGINAL", help="the id of the part that is to be replaced")
    parser.add_argument("other", metavar="OTHER", help="the id of the part that is to take its place")
