"""Words and options of ``loomwright check``."""

import argparse

HELP = "check files of parts, looms and jobs, and say what is wrong where"
DESCRIPTION = """\
Checks files of parts, looms and jobs; without a file, all catalogues with every
loom, job and published table in them. What is wrong is said with file, line and
column, what was met and what would be accepted."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what only this verb takes."""
    what = parser.add_mutually_exclusive_group()
    what.add_argument("files", metavar="FILE", nargs="*", default=[], help="a file of parts, a loom or a job")
    what.add_argument(
        "--schema", choices=("part", "loom", "job"), help="print the JSON Schema of one kind of file instead"
    )
