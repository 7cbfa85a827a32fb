"""Words and options of ``loomwright start``."""

import argparse

HELP = "make a folder to start from: a small loom, a job and a wire list"
DESCRIPTION = """\
Makes a folder with a small loom, a job and a wire list (CSV and XLSX) of an
invented van, in which 'loomwright plan' works at once; comments say which lines
to change. With a wire list of your own the folder begins with that, and says
which places of it need a part."""
OUTCOMES = ("the folder is made",)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what only this verb takes."""
    parser.add_argument("folder", metavar="DIR", help="the new folder; one that is there must be empty")
    parser.add_argument("--wires", metavar="LIST", help="your own wire list to begin with, CSV or XLSX")
