"""Words and options of ``loomwright sheet``."""

import argparse

HELP = "make the sheet for the bench: steps by place, materials, labels, first power, the way back"
DESCRIPTION = """\
Plans a job as 'loomwright plan' does and prints what one takes to the vehicle:
every step by place in the order that needs the fewest changes of place, first
power fuse by fuse, how each new wire is made, what is to be bought, the labels,
and how to go back. Without a job it takes the one in the folder you are in,
else the built-in demonstration."""
OUTCOMES = (
    "nothing is lost and nothing is open",
    "made, but something is lost, unsafe, unsettled or must be measured",
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what only this verb takes."""
    parser.add_argument(
        "job", metavar="JOB", nargs="?", help="a job file, or the name of a job in the catalogue"
    )
    parser.add_argument(
        "--kit",
        metavar="KIT",
        help="leads that lie ready, a table (CSV or XLSX); they are used where they fit",
    )
    parser.add_argument(
        "--why",
        metavar="STEP",
        nargs=2,
        type=int,
        help="say why one step comes after another, by their numbers: --why 12 7",
    )
    parser.add_argument(
        "--done",
        metavar="FILE",
        help="what is done, a step's number or a range (1-7) a line, and what turned out otherwise: "
        "'part PLACE PART', 'broken WIRE ADDRESS', 'cut WIRE'; the sheet is made of what is left",
    )
    parser.add_argument(
        "--write",
        metavar="DIR",
        help="write the sheet to a folder instead of printing it, in every form that --form names",
    )
    parser.add_argument(
        "--form",
        metavar="FORMS",
        help="with --write: which forms, separated by commas: pdf (to print), html (a page for a browser), "
        "md (Markdown), xlsx (a workbook of all tables), csv (the same tables one by one), json (for "
        "programs); all of these if nothing is said. svg is each picture as a file of its own",
    )
    parser.add_argument(
        "--side",
        metavar="SIDE",
        help="with --write: from which side the terminals of a place are drawn, wiring (where the wires go "
        "on; if not said) or other",
    )
    parser.add_argument(
        "--paper",
        metavar="PAPER",
        help="with --write: what the PDF is printed on, letter or a4 (a4 if not said)",
    )
    parser.add_argument(
        "--words",
        metavar="FILE",
        help="the words of another language: a copy of the list planner/messages.json with its texts on the "
        "right-hand sides; what it has not stays English",
    )
    parser.add_argument("--force", action="store_true", help="with --write: replace files that are there")
