"""Words and options of ``loomwright check``."""

import argparse

from planner.commands.options import add_watch

HELP = "check files of parts, looms, jobs and wire lists, and explain what a loom does"
DESCRIPTION = """\
Checks files of parts, looms and jobs; without a file, all catalogues with every
loom, job and published table in them. What is wrong is said with file, line and
column, what was met and what would be accepted. Of a wire list (CSV or XLSX) it
shows what each row was read as. If nothing is wrong, a loom is explained: what
each circuit does, what is never fed or fed twice, wires that end nowhere,
colours that contradict what the wire is, and what is only assumed."""
OUTCOMES = (
    "nothing is wrong; with --kit: every lead has its wire",
    "with --kit: a lead is left over, missing or not decided",
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what only this verb takes."""
    what = parser.add_mutually_exclusive_group()
    what.add_argument(
        "files",
        metavar="FILE",
        nargs="*",
        default=[],
        help="a file of parts, a loom, a job or a wire list; or the name of a shipped loom or job",
    )
    what.add_argument(
        "--schema", choices=("part", "loom", "job"), help="print the JSON Schema of one kind of file instead"
    )
    parser.add_argument(
        "--wire-list", metavar="OUT", help="write the wires of the loom FILE as a list, OUT.csv or OUT.xlsx"
    )
    parser.add_argument(
        "--kit", metavar="KIT", help="say which lead of a table of loose leads is which wire of the loom FILE"
    )
    parser.add_argument(
        "--force", action="store_true", help="with --wire-list, write over OUT if it is there already"
    )
    add_watch(parser)
