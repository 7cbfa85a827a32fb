"""Words and options of ``loomwright identify``."""

import argparse

HELP = "say which part lies on the bench, from what a meter reads between its terminals"
DESCRIPTION = """\
Takes a table (CSV or XLSX) of what a meter says between the terminals of a part
that nobody knows, in each of its positions, and finds every part of the
catalogue that explains it, which terminal is which, and the one reading that
would decide best among those left. Either a row per position:

  position, A-B,   A-C,  B-C
  off,      beeps, open, open
  on,       open,  0.2,  open

or the headings position, from, to, reading, with a row per reading (red lead
at "from"). A reading is ohms (0.2, 3.5 ohm, 1.2k), beeps, open or OL, 0.6 V on
the diode range, or nothing if it was not taken. Name every terminal, and say in
the position's name when a coil was fed, such as "coil fed". Positions called by
what they do (off, side, head) tell more than numbers. FOUND ends with exit
status 0: one kind of part, read in every position, its terminals told apart or
alike. NOT DECIDED, NOT FOUND and readings to take again end with 1."""
OUTCOMES = (
    "found: one thing is left, and nothing is to be read for it",
    "not decided, or nothing explains the readings",
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what only this verb takes."""
    parser.add_argument("readings", metavar="READINGS", help="the table of readings, CSV or XLSX")
    parser.add_argument("--family", metavar="FAMILY", help="look only among the parts of one family")
    parser.add_argument(
        "--leads",
        metavar="OHMS",
        type=_leads,
        help="what the meter reads with its tips held together; up to 0.5 ohm is allowed for if not given",
    )
    parser.add_argument(
        "--write",
        metavar="PART.yaml",
        help="write what was measured as a part of your own, for compare or a folder of your own parts",
    )


def _leads(said: str) -> float:
    """Ohms of the leads; argparse says what is wrong with them."""
    try:
        ohms = float(said)
    except ValueError:
        ohms = -1.0
    if not 0.0 <= ohms <= 5.0:
        raise argparse.ArgumentTypeError(f"expected ohms from 0 to 5, got {said!r}")
    return ohms
